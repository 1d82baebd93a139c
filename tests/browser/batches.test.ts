import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { buildPackages } from '../support/run-cli.ts';

const workshop = workshopService();
const browser = openBrowser();

beforeAll(buildPackages);

/** The approved last of a cast, as whoever fetches it gets it: digest of its bytes. */
async function approvedLast(castId: string): Promise<{ revisionId: string; digest: string }> {
  const { maker } = workshop();
  const { approvedRevisionId: revisionId } = (await maker('GET', `/casts/${castId}`)).body;
  const bytes = new Uint8Array(await (await maker.raw('GET', `/revisions/${revisionId}/files/last.stl`)).arrayBuffer());
  return { revisionId, digest: createHash('sha256').update(bytes).digest('hex') };
}

async function addVersion(page: Page): Promise<void> {
  await page.locator('[data-rule="last.toeAllowanceMm"]').getByRole('textbox').fill('10');
  await page.getByLabel('Why').fill('More room ahead of the toes.');
}

describe('from a new rule to the approved last', () => {
  it('goes by a trial, a batch, a look at each change and the maker\'s word; nothing approved changes before that', async () => {
    const { maker, service } = workshop();
    const casts = [];
    for (const [scan, side] of [['2044-left.stl', 'left'], ['2043-left.stl', 'left']] as const) {
      const { castId, orderNumber } = await bookIn(maker, { side, content: { discipline: 'skating-type' } });
      casts.push({ castId, orderNumber, revision: await ended(maker, (await upload(maker, castId, sampleScan(scan))).body.revisionId) });
    }
    const [one] = casts;
    await maker('POST', `/revisions/${one.revision.id}/approval`, { verdict: 'approved', fingerprint: one.revision.fingerprint }, { 'if-match': `"${(await maker('GET', `/casts/${one.castId}`)).body.version}"` });
    const before = await approvedLast(one.castId);

    // A new version is written and tried on one cast.
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, service.url, 'maker', '/rules');
    await page.getByRole('link', { name: 'Change them' }).click();
    await addVersion(page);
    const tryOn = page.getByRole('button', { name: 'Try on casts' });
    await expect.poll(() => tryOn.isEnabled()).toBe(true);
    await tryOn.click();
    const dialog = page.getByRole('dialog', { name: 'Try these rules on casts' });
    await dialog.getByText(one.orderNumber, { exact: true }).waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'batches-try-on');
    await dialog.getByLabel(new RegExp(one.orderNumber)).check();
    await dialog.getByRole('button', { name: 'Try on 1 cast' }).click();
    await page.getByRole('heading', { name: /Trial of house rules/ }).waitFor();
    await page.getByText('1 of 1 cast made').waitFor({ timeout: 120_000 });
    await page.getByRole('table', { name: 'Casts of this batch' }).locator('.decision.tried').waitFor({ timeout: 60_000 });
    expect(await page.getByRole('button', { name: /Accept/ }).count()).toBe(0);
    await expectSound(watched);
    await keepPicture(page, 'batches-trial');
    await page.getByRole('link', { name: 'Back to writing the rules' }).click();

    // What was written is there still; it becomes a version and a batch.
    const save = page.getByRole('button', { name: 'Save the version' });
    await expect.poll(() => save.isEnabled()).toBe(true);
    await save.click();
    await page.getByRole('heading', { name: /house rules, version 2/ }).waitFor();
    await page.getByRole('link', { name: 'Make casts again by these' }).click();
    await page.getByText('2 casts', { exact: true }).waitFor();
    await page.getByText('1 of them is approved').waitFor();
    await page.getByLabel('Kind of footwear').selectOption('skating-type');
    await page.getByRole('button', { name: 'Begin with 2 casts' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'batches-begin');
    await page.getByRole('button', { name: 'Begin with 2 casts' }).click();
    await page.getByRole('heading', { name: 'house rules, version 2' }).waitFor();
    // The cast of the trial is made already: rules that are the same give the same last.
    await page.getByText('2 of 2 casts made', { exact: true }).waitFor({ timeout: 120_000 });
    const table = page.getByRole('table', { name: 'Casts of this batch' });
    await expect.poll(() => table.getByText('to decide').count(), { timeout: 60_000 }).toBe(2);
    await expectSound(watched);
    await keepPicture(page, 'batches-batch');
    expect(await approvedLast(one.castId)).toEqual(before);

    // One row is looked at by the keyboard: the small files for looking at are read, not the file for making.
    const read = new Set<string>();
    page.on('request', (request) => void read.add(/files\/([\w.-]+)$/.exec(request.url())?.[1] ?? ''));
    await table.focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.locator('.two-surfaces[data-state=shown][data-whole=true]').waitFor({ timeout: 60_000 });
    expect([...read].filter((name) => /\.(glb|stl)$/.test(name)).sort()).toEqual(['view-last.glb', 'view-light.glb']);
    await page.getByRole('button', { name: 'Side by side' }).click();
    await expectSound(watched);
    await keepPicture(page, 'batches-row');
    await page.getByRole('button', { name: 'Wipe' }).click();
    await page.getByRole('button', { name: 'From above' }).click();
    await keepPicture(page, 'batches-row-wipe');
    await page.keyboard.press('Escape');

    // Limits that take nothing, then limits that take both.
    await page.getByLabel('surface within').fill('0.1');
    await page.getByText('takes 0 of 2 open rows').waitFor();
    await page.getByLabel('surface within').fill('60');
    await page.getByLabel('girths within').fill('60');
    await page.getByText('takes 2 of 2 open rows, 1 approved').waitFor();
    expect(await approvedLast(one.castId)).toEqual(before);
    await page.reload();
    await page.getByText('takes 2 of 2 open rows, 1 approved').waitFor();
    await page.getByRole('button', { name: 'Accept 2' }).click();
    await page.getByText('1 approved last is replaced and stays approved, signed by maker.').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'batches-accept');
    await page.getByRole('button', { name: 'Accept them' }).click();
    await page.getByText('2 casts accepted.').waitFor();
    await expect.poll(() => table.getByText('accepted').count()).toBe(2);
    await keepPicture(page, 'batches-accepted');

    const after = await approvedLast(one.castId);
    expect(after.revisionId).not.toBe(before.revisionId);
    expect(after.digest).not.toBe(before.digest);
    expect((await maker('GET', `/casts/${one.castId}`)).body.state).toBe('approved');
    await page.goto(`${service.url}/batches`);
    await page.getByRole('link', { name: 'house rules, version 2' }).first().waitFor();
    await expectSound(watched);
    await keepPicture(page, 'batches-all');
  }, 300_000);
});

import { eq } from 'drizzle-orm';
import { beforeAll, describe, expect, it } from 'vitest';
import { batchItems, revisions } from '@cast-to-last/runtime/records/schema';
import type { Page } from 'playwright-core';
import { bookIn, ended, sampleScan, until, upload } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import type { WatchedPage } from '../support/browser.ts';
import { buildPackages } from '../support/run-cli.ts';

const workshop = workshopService();
const browser = openBrowser();
const casts: { castId: string; orderNumber: string }[] = [];
let batchId = '';
let newRules = '';

/** Three casts of one scan, whose stages are done once, and a batch over them. */
beforeAll(async () => {
  await buildPackages();
  const { maker } = workshop();
  for (let i = 0; i < 3; i++) {
    const { castId, orderNumber } = await bookIn(maker, { side: 'left' });
    await ended(maker, (await upload(maker, castId, sampleScan('2044-left.stl'), 'left.stl')).body.revisionId);
    casts.push({ castId, orderNumber });
  }
  newRules = (await maker('POST', '/rules', { name: 'house rules', content: { last: { topHeightMm: 90 } }, note: 'a top' })).body.id;
  batchId = (await maker('POST', '/batches', { name: 'a top for all', rulesId: newRules, filter: { castIds: casts.map(({ castId }) => castId) } })).body.id;
  await batchEnded();
});

const batchEnded = (): Promise<unknown> => until(() => workshop().maker('GET', `/batches/${batchId}`), ({ body }) => body.state === 'ended' && body.counts.compared === 3);

/** The candidate of a cast as one that the program failed at, beside the change files: its like cannot be had from a sound program. */
async function fail(castId: string): Promise<void> {
  const { db } = workshop().service.runtime.records;
  const [item] = await db.select().from(batchItems).where(eq(batchItems.castId, castId));
  const at = new Date().toISOString();
  await db.update(batchItems).set({ comparison: null }).where(eq(batchItems.id, item.id));
  await db.update(revisions).set({ state: 'failed', files: [], changedAt: at, story: [{ at, what: 'fault', worker: 'worker-1', stage: 'build-last', text: 'The program failed while it built the last.' }] }).where(eq(revisions.id, item.revisionId ?? ''));
}

async function openBatch(path = ''): Promise<WatchedPage> {
  const watched = await browser.open();
  await signInAs(watched.page, workshop().service.url, 'maker', `/batches/${batchId}${path}`);
  await watched.page.getByRole('button', { name: 'All (3)' }).waitFor();
  watched.complaints.length = 0;
  return watched;
}

const filter = (page: Page, words: string, count: number) => page.getByRole('button', { name: `${words} (${count})`, exact: true });

describe('a batch in which something goes wrong', () => {
  it('says what failed and makes it again', async () => {
    await fail(casts[0].castId);
    const watched = await openBatch();
    const { page } = watched;
    await filter(page, 'Without a result', 1).click();
    await page.getByRole('table', { name: 'Casts of this batch' }).getByRole('link', { name: casts[0].orderNumber }).click();
    await page.getByText('The program failed at this cast.').waitFor();
    await page.getByText('What happened', { exact: true }).click();
    await page.getByText('The program failed while it built the last.').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'batches-failed');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Make the 1 that failed again' }).click();
    await filter(page, 'To decide', 3).waitFor({ timeout: 120_000 });
    await filter(page, 'Without a result', 0).waitFor();
    expect(await page.getByRole('button', { name: /that failed again/ }).count()).toBe(0);
    await expectSound(watched);
  });

  it('loses its connection, says so, and catches up with what was made and decided meanwhile', async () => {
    await fail(casts[0].castId);
    const watched = await openBatch();
    const { page } = watched;
    await filter(page, 'Without a result', 1).waitFor();
    await page.context().setOffline(true);
    await page.getByText('No connection. What you see may be old').waitFor();
    await keepPicture(page, 'batches-no-line');
    const { maker } = workshop();
    await maker('POST', `/batches/${batchId}/retry`);
    await batchEnded();
    const { items } = (await maker('GET', `/batches/${batchId}/items`)).body;
    await maker('POST', `/batches/${batchId}/decline`, { itemIds: [items.find(({ castId }: { castId: string }) => castId === casts[2].castId).id] });
    // Nothing of that reached the page.
    expect(await filter(page, 'Without a result', 1).count()).toBe(1);
    expect(await filter(page, 'Declined', 0).count()).toBe(1);
    await page.context().setOffline(false);
    await page.getByText('No connection. What you see may be old').waitFor({ state: 'detached' });
    await filter(page, 'Declined', 1).waitFor();
    await filter(page, 'To decide', 2).waitFor();
    // What failed while the line was lost is no longer told.
    await page.getByRole('alert').waitFor({ state: 'detached' });
    watched.complaints.length = 0;
    await expectSound(watched);
  });

  it('replaces nothing that someone else approved or changed since the row was shown', async () => {
    const { maker } = workshop();
    const watched = await openBatch();
    const { page } = watched;
    const table = page.getByRole('table', { name: 'Casts of this batch' });
    await table.getByRole('link', { name: casts[0].orderNumber }).click();
    const accept = page.getByRole('button', { name: 'Accept', exact: true });
    await accept.waitFor();
    // News of what others do must not reach the page before the press, however slow it is.
    let late = true;
    await page.route(/\/batches\/[^/]+\/items\?/, (route) => (late ? route.fulfill({ json: { items: [], next: null } }) : route.continue()));
    const before = (await maker('GET', `/casts/${casts[0].castId}`)).body;
    const { fingerprint } = (await maker('GET', `/revisions/${before.currentRevisionId}`)).body;
    await workshop().administrator('POST', `/revisions/${before.currentRevisionId}/approval`, { verdict: 'approved', fingerprint }, { 'if-match': `"${before.version}"` });
    await Promise.all([page.waitForResponse(/\/accept$/).then(() => void (late = false)), accept.click()]);
    await page.getByText(`${casts[0].orderNumber} left was left: Its last was approved meanwhile. Look at it again before it is replaced.`).waitFor();
    expect((await maker('GET', `/casts/${casts[0].castId}`)).body.approvedRevisionId).toBe(before.currentRevisionId);
    // It is shown as it is now, and may be replaced by who has seen that.
    await page.getByRole('button', { name: 'Accept: replaces the approved last' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'batches-approved-meanwhile');
    await page.getByRole('button', { name: 'Accept: replaces the approved last' }).click();
    await filter(page, 'Accepted', 1).waitFor();
    const after = (await maker('GET', `/casts/${casts[0].castId}`)).body;
    expect(after).toMatchObject({ state: 'approved', approvedRevisionId: after.currentRevisionId });
    expect(after.approvedRevisionId).not.toBe(before.currentRevisionId);

    // Another result by now: nothing is laid over it.
    await table.getByRole('link', { name: casts[1].orderNumber }).click();
    await accept.waitFor();
    late = true;
    await workshop().administrator('POST', `/casts/${casts[1].castId}/revisions`, { rulesId: newRules, decisions: {} });
    await Promise.all([page.waitForResponse(/\/accept$/).then(() => void (late = false)), accept.click()]);
    await page.getByText(/was left: The cast has another result by now than the one compared with/).waitFor();
    await page.locator('.item-pane .decision.overtaken').waitFor();
    await page.getByText('Nothing is accepted over it.').waitFor();
    await expectSound(watched);
  });
});

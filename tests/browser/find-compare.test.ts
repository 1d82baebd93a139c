import { beforeAll, describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { buildPackages } from '../support/run-cli.ts';

const workshop = workshopService();
const browser = openBrowser();
const results: { orderNumber: string; revisionId: string }[] = [];

beforeAll(async () => {
  await buildPackages();
  const { maker } = workshop();
  const made = ['2043-left.stl', '2043-right.stl'].map(async (name) => {
    const { castId, orderNumber } = await bookIn(maker, { side: name.includes('left') ? 'left' : 'right' });
    const { id } = await ended(maker, (await upload(maker, castId, sampleScan(name))).body.revisionId);
    return { orderNumber, revisionId: id };
  });
  results.push(...(await Promise.all(made)));
});

describe('two results compared', () => {
  it('are found by their orders, laid on each other, and told apart by figures and a map', async () => {
    const watched = await browser.open({ width: 1280, height: 1000 });
    const { page } = watched;
    const [left, right] = results;
    await signInAs(page, workshop().service.url, 'maker', '/find/compare');
    for (const [title, { orderNumber }] of [['First', left], ['Second', right]] as const) {
      const part = page.getByRole('region', { name: title, exact: true });
      await part.getByRole('searchbox').fill(orderNumber);
      await part.getByRole('button', { name: new RegExp(orderNumber) }).click();
      await part.getByText(/result 1/).waitFor();
    }
    await page.getByRole('heading', { name: 'Measures of the casts' }).waitFor({ timeout: 90_000 });
    await page.locator('.two-surfaces[data-state=shown]').waitFor({ timeout: 60_000 });
    await page.getByRole('img', { name: /Colours from/ }).waitFor();
    const row = page.getByRole('row', { name: /foot length/ });
    const { body } = await workshop().maker('POST', '/comparisons', { first: { revisionId: left.revisionId }, second: { revisionId: right.revisionId }, of: 'cast' });
    const length = body.report.measures.find(({ id }: { id: string }) => id === 'foot-length');
    expect(await row.textContent()).toContain(`${length.first.toFixed(1)} mm`);
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'find-compare');
    await page.getByRole('button', { name: 'From above' }).click();
    await page.getByRole('button', { name: 'The first alone' }).click();
    await keepPicture(page, 'find-compare-above');

    // Their lasts, by the address alone.
    await page.goto(`${workshop().service.url}/find/compare?first=${left.revisionId}&second=${right.revisionId}&of=last`);
    await page.getByRole('heading', { name: 'Measures of the lasts' }).waitFor({ timeout: 90_000 });
    const pdf = await page.getByRole('link', { name: 'The comparison with its map as a drawn page' }).getAttribute('href');
    expect((await workshop().maker.raw('GET', (pdf ?? '').replace('/api/v1', ''))).headers.get('content-type')).toBe('application/pdf');
    // The same result twice is no comparison.
    await page.goto(`${workshop().service.url}/find/compare?first=${left.revisionId}&second=${left.revisionId}`);
    await page.getByRole('alert').getByText('is the first one again').first().waitFor();
  });
});

describe('without WebGL', () => {
  const plain = openBrowser(['--disable-gpu', '--disable-3d-apis']);
  it('what the service has drawn stands in for the scene', async () => {
    const watched = await plain.open();
    const { page } = watched;
    const [left, right] = results;
    await signInAs(page, workshop().service.url, 'maker', `/find/compare?first=${left.revisionId}&second=${right.revisionId}`);
    await page.getByText('This browser draws nothing in 3D here').waitFor({ timeout: 90_000 });
    await page.getByRole('button', { name: 'Sole' }).click();
    const picture = page.getByRole('img', { name: 'First, left, sole' });
    await expect.poll(() => picture.evaluate((img) => (img as unknown as { naturalWidth: number }).naturalWidth), { timeout: 60_000 }).toBeGreaterThan(200);
    await page.getByRole('heading', { name: 'Measures of the casts' }).waitFor();
    await keepPicture(page, 'find-compare-no-3d');
  });
});

import { describe, expect, it } from 'vitest';
import { bookIn, ended, upload } from '../support/api-cast.ts';
import { sampleScan } from '../support/api-cast.ts';
import { PASSWORD, workshopService } from '../support/api-service.ts';
import { accessibilityFaults, expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();
const without3d = openBrowser(['--disable-3d-apis']);
const scanFile = (name: string): string => new URL(`../../sample-meshes/${name}`, import.meta.url).pathname;
const LONG_MS = 150_000;

describe('scans on their way', () => {
  it('are paused, go on after a lost line and after a reload of the page, and are not taken twice', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { orderId } = await bookIn(workshop().assistant, { content: { sides: ['left'] } });
    await signInAs(page, workshop().service.url, 'assistant', `/arrivals/${orderId}`);
    // Parts wait until the test lets them through; the line breaks where it says so.
    let open = false;
    let broken = false;
    let parts = 0;
    await page.route(/\/uploads\/[0-9a-f-]+$/, async (route) => {
      if (route.request().method() !== 'PATCH') return route.continue();
      parts++;
      if (broken) return route.abort('connectionreset');
      while (!open && !broken) await new Promise((resolve) => setTimeout(resolve, 20));
      return broken ? route.abort('connectionreset') : route.continue().catch(() => undefined);
    });
    await page.getByLabel('Choose scans').setInputFiles(scanFile('2041-left.stl'));
    await page.getByText(/on its way, 0 %/).waitFor();
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByText(/paused, 0 %/).waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    broken = true;
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText(/no connection; it goes on by itself/).waitFor();
    await keepPicture(page, 'upload-no-line');
    // It tries again by itself.
    const before = parts;
    await expect.poll(() => parts, { timeout: 20_000 }).toBeGreaterThan(before);
    broken = false;
    await page.reload();
    await page.getByText(/on its way, 0 %/).waitFor();
    open = true;
    await page.getByText(/Booked to the left cast/).waitFor({ timeout: LONG_MS });
    await page.reload();
    await page.getByLabel('Choose scans').setInputFiles(scanFile('2041-left.stl'));
    await page.getByText('This scan was uploaded before').waitFor();
    const { body } = await workshop().assistant('GET', `/orders/${orderId}`);
    expect((await workshop().assistant('GET', `/casts/${body.casts[0].id}/revisions`)).body.items).toHaveLength(1);
  }, LONG_MS);

  it('of the wrong foot are refused with what helps: it goes to the other cast, or on all the same', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    const { orderId, castId } = await bookIn(assistant, { side: 'right' });
    await assistant('POST', `/orders/${orderId}/casts`, { side: 'left' });
    const { body: { revisionId } } = await upload(assistant, castId, sampleScan('2041-left.stl'), 'left.stl');
    expect((await ended(assistant, revisionId)).refusal.code).toBe('side-contradiction');
    await signInAs(page, service.url, 'assistant', `/arrivals/${orderId}`);
    watched.complaints.length = 0;
    const right = page.getByRole('region', { name: 'Right cast' });
    await right.getByRole('button', { name: 'It is the right foot all the same' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'order-wrong-side');
    await page.goto(`${service.url}/queue`);
    await page.getByText('refused').first().waitFor();
    await expectSound(watched);
    await keepPicture(page, 'queue-refused');
    await page.getByRole('link', { name: 'Go to the cast' }).first().click();
    await right.getByRole('button', { name: 'It is the left foot' }).click();
    // It was never told to be here.
    await right.getByText('on the way').waitFor();
    await page.getByRole('region', { name: 'Left cast' }).locator('.verdict-head').waitFor({ timeout: LONG_MS });
  }, LONG_MS);

  it('that are no scan say so, and the cast waits for another', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { orderId } = await bookIn(workshop().assistant, { content: { sides: ['left'] } });
    await signInAs(page, workshop().service.url, 'assistant', `/arrivals/${orderId}`);
    await page.getByLabel('Choose scans').setInputFiles({ name: 'notes.stl', mimeType: 'model/stl', buffer: Buffer.from('no scan at all') });
    await page.getByRole('alert').getByText('not an STL, PLY or OBJ file').waitFor();
    await page.getByRole('button', { name: 'It is the left foot' }).waitFor();
    await keepPicture(page, 'upload-no-scan');
    await page.getByRole('button', { name: 'Give up' }).click();
    await page.getByText('notes.stl').waitFor({ state: 'detached' });
    expect((await workshop().assistant('GET', `/orders/${orderId}`)).body.casts[0].state).toBe('awaiting-scan');
  });
});

describe('a session that ends', () => {
  it('loses nothing that was typed', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'assistant', '/arrivals/new');
    await page.getByLabel('Order number').fill('S-200');
    await page.getByLabel('Remarks').fill('Typed before the session ended.');
    await page.context().clearCookies();
    await page.getByRole('button', { name: 'Book in', exact: true }).click();
    const again = page.getByRole('dialog', { name: 'Sign in again' });
    await again.waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await keepPicture(page, 'session-ended');
    await again.getByLabel('Name').fill('assistant');
    await again.getByLabel('Password').fill(PASSWORD);
    await again.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { name: 'Order S-200' }).waitFor();
    await page.getByText('Typed before the session ended.').waitFor();
  });

  it('by signing out leaves nothing of a customer behind', async () => {
    const { page } = await browser.open();
    await signInAs(page, workshop().service.url, 'assistant', '/arrivals/new');
    await page.getByRole('button', { name: 'Add a new customer' }).click();
    await page.getByLabel('Name (may be left out)').fill('A name that is private');
    expect(await page.evaluate('JSON.stringify(sessionStorage)')).toContain('private');
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('button', { name: 'Sign in' }).waitFor();
    expect(await page.evaluate('JSON.stringify(sessionStorage) + JSON.stringify(localStorage)')).not.toContain('private');
  });
});

describe('a cast that has to be taken again', () => {
  it('shows why, gives the note and is marked in two clicks; the new cast takes its place', async () => {
    const watched = await without3d.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    // A footbed far steeper than the one that the sample stood on.
    const { orderId, castId } = await bookIn(assistant, { content: { sides: ['left'], load: 'seated', footbed: { heelHeightMm: 70, hingeHeightMm: 0, toeHeightMm: 20, heelToHingeMm: 178, hingeToToeMm: 84 } } });
    const { body: { revisionId } } = await upload(assistant, castId, sampleScan('2043-left.stl'));
    expect((await ended(assistant, revisionId)).summary.verdict).toBe('recast');
    await signInAs(page, service.url, 'assistant', `/arrivals/${orderId}`);
    watched.complaints.length = 0;
    await page.locator('.verdict-head').getByText('Cast again').waitFor();
    await page.locator('.limit-scale').first().waitFor();
    // Without WebGL the service draws.
    await page.getByRole('img', { name: /The left cast: / }).waitFor({ timeout: 60_000 });
    await expectSound(watched);
    await keepPicture(page, 'order-recast');
    const note = await page.getByRole('link', { name: 'Open the note to print' }).getAttribute('href');
    expect(await page.evaluate(async (address) => (await fetch(address)).headers.get('content-disposition'), note ?? '')).toContain('inline');
    await page.getByRole('button', { name: 'Mark as to be cast again' }).click();
    await page.getByText('to be cast again').first().waitFor();
    await expectSound(watched);
    await page.getByRole('button', { name: 'Book in the new left cast' }).click();
    await page.getByText('replaced by a new cast').waitFor();
    await page.getByText('to be scanned').waitFor();
    await keepPicture(page, 'order-recast-replaced');
    expect((await assistant('GET', '/arrivals/counts')).body).toMatchObject({ recast: 0, replaced: 1 });
  }, LONG_MS);
});

import { describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, until, upload } from '../support/api-cast.ts';
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

describe('what is told of a scan', () => {
  /** The sample's scan with its coordinates in centimetres. */
  const inCentimetres = (): Buffer => {
    const bytes = Buffer.from(sampleScan('2044-left.stl'));
    for (let at = 84; at < bytes.length; at += 50) for (let i = 0; i < 12; i++) bytes.writeFloatLE(bytes.readFloatLE(at + 4 * i) / 10, at + 4 * i);
    return bytes;
  };
  const reportOf = async (castId: string) => {
    const { assistant } = workshop();
    return (await assistant('GET', `/revisions/${(await assistant('GET', `/casts/${castId}`)).body.currentRevisionId}/files/report.json`)).body;
  };

  it('goes with it: what was scanned, its unit, and the wall by the layers of the order; a wall that is no number is not sent', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    await signInAs(page, service.url, 'assistant', '/arrivals/new');
    watched.complaints.length = 0;
    await page.getByLabel('Order number').fill('W-300');
    await page.getByLabel('Left alone').check();
    await page.getByLabel('Layers of bandage').fill('9');
    await page.getByRole('button', { name: 'Book in', exact: true }).click();
    await page.getByRole('heading', { name: 'Order W-300' }).waitFor();
    await page.getByText('9 layers').waitFor();

    await page.getByText('They show a poured positive, unit told from the size').click();
    await page.getByLabel('What was scanned').selectOption({ label: 'the outside of the shell' });
    await page.getByLabel('Unit of the file').selectOption('cm');
    await page.getByLabel('Wall (mm)').fill('four');
    await page.getByRole('alert').getByText('The wall of the shell must be a number.').waitFor();
    expect(await page.getByLabel('Choose scans').isDisabled()).toBe(true);
    await expectSound(watched);
    await keepPicture(page, 'upload-wall-fault');
    await page.getByLabel('Wall (mm)').fill('45');
    await page.getByRole('alert').getByText('must be 0.5 to 30 mm').waitFor();
    await page.getByLabel('Wall (mm)').fill('');
    await page.getByText('They show the outside of the shell, unit cm').waitFor();
    await page.getByLabel('Choose scans').setInputFiles({ name: 'left.stl', mimeType: 'model/stl', buffer: inCentimetres() });
    await page.getByText(/Booked to the left cast/).waitFor({ timeout: 60_000 });
    const left = page.getByRole('region', { name: 'Left cast' });
    await left.locator('.verdict-head').waitFor({ timeout: LONG_MS });
    const { body: { items: [order] } } = await assistant('GET', '/orders?search=W-300');
    const report = await reportOf(order.casts.find(({ side }: { side: string }) => side === 'left').id);
    expect(report.scan).toMatchObject({ unit: 'cm', unitHow: 'given', kind: 'outside', wallHow: 'layers', wallMm: expect.closeTo(9 * 0.45, 2) });
    await keepPicture(page, 'order-shell');
  }, LONG_MS);

  it('may be told better where the work stopped: another unit, then the wall', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    const { orderId, castId } = await bookIn(assistant, { content: { sides: ['left'] } });
    await signInAs(page, service.url, 'assistant', `/arrivals/${orderId}`);
    watched.complaints.length = 0;
    await page.getByText('They show a poured positive').click();
    await page.getByLabel('What was scanned').selectOption({ label: 'the outside of the shell' });
    await page.getByLabel('Unit of the file').selectOption({ label: 'inches' });
    await page.getByLabel('Choose scans').setInputFiles(scanFile('2044-left.stl'));
    // A foot of 6.5 m tells no side.
    await page.getByRole('button', { name: 'It is the left foot' }).click({ timeout: 60_000 });
    expect(watched.complaints.filter((text) => !text.includes('422'))).toEqual([]);
    watched.complaints.length = 0;
    const stopped = page.getByRole('group', { name: 'Why it stopped' });
    await stopped.getByLabel('The file is in').waitFor({ timeout: 60_000 });
    await expectSound(watched);
    await keepPicture(page, 'order-wrong-unit');
    await stopped.getByLabel('The file is in').selectOption('mm');
    await stopped.getByRole('button', { name: 'Go on in mm' }).click();
    const wall = stopped.getByLabel('Wall of the shell (mm)');
    await wall.waitFor({ timeout: 60_000 });
    expect(await stopped.getByRole('button', { name: 'Go on with this wall' }).isDisabled()).toBe(true);
    // Scanned again it is still the outside of a shell, in the unit that was settled.
    const newest = async () => (await assistant('GET', `/casts/${castId}/revisions`)).body.items[0];
    const before = await newest();
    await stopped.getByLabel('Scan again').setInputFiles(scanFile('2041-left.stl'));
    const again = await until(newest, ({ id, state }) => id !== before.id && state === 'refused');
    expect((await assistant('GET', `/revisions/${again.id}`)).body.scan).toEqual({ kind: 'outside', unit: 'mm', wallMm: null, scannerId: null });
    await wall.waitFor();
    await wall.fill('4,5');
    await expectSound(watched);
    await keepPicture(page, 'order-wall-unknown');
    await stopped.getByRole('button', { name: 'Go on with this wall' }).click();
    await page.locator('.verdict-head').waitFor({ timeout: LONG_MS });
    expect((await reportOf(castId)).scan).toMatchObject({ unit: 'mm', unitHow: 'given', kind: 'outside', wallHow: 'given', wallMm: 4.5 });
  }, LONG_MS);
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

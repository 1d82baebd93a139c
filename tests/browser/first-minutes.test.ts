import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { addSamples } from '@cast-to-last/api/samples/add-samples';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const SAMPLES = fileURLToPath(new URL('../../sample-meshes/', import.meta.url));
const workshop = workshopService({}, SAMPLES);
const browser = openBrowser();
/** How long a step may be waited for, with other sample casts being worked on at the same time. */
const MOST_MS = 180_000;

beforeAll(async () => {
  await addSamples(workshop().service.runtime, SAMPLES);
}, 60_000);

describe('the first minutes', () => {
  it('lead from a sample order through upload, check, marks and approval to its sheet', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'maker', '/');
    watched.complaints.length = 0;
    const steps = page.getByRole('complementary', { name: 'First steps' });
    await steps.getByRole('link', { name: 'Upload the scan' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'first-minutes-begin');
    await steps.getByRole('link', { name: 'Upload the scan' }).click();
    await page.getByRole('button', { name: 'Use the sample scan' }).click();
    await page.getByText(/Booked to the left cast/).waitFor({ timeout: MOST_MS });
    await page.locator('.verdict-head').waitFor({ timeout: MOST_MS });
    await steps.getByRole('link', { name: 'Decide the marks, approve' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'first-minutes-check');
    await steps.getByRole('link', { name: 'Decide the marks, approve' }).click();

    await page.locator('.mark-row').first().click({ timeout: 60_000 });
    await page.keyboard.press('k');
    await page.getByText('No mark asks').first().waitFor();
    await page.locator('.mark-detail').getByText('The maker decided: keep.').waitFor({ timeout: MOST_MS });
    await page.getByRole('button', { name: 'Sign left' }).and(page.locator(':enabled')).click({ timeout: MOST_MS });
    await keepPicture(page, 'first-minutes-sign');
    await page.getByRole('dialog').getByRole('button', { name: /approve/i }).click();
    const sheet = steps.getByRole('link', { name: 'Open the sheet' });
    await sheet.waitFor({ timeout: 60_000 });
    const href = await sheet.getAttribute('href');
    const pdf = await page.evaluate(async (address) => {
      const response = await fetch(address);
      return { type: response.headers.get('content-type'), kept: response.headers.get('content-disposition'), begins: new TextDecoder().decode((await response.arrayBuffer()).slice(0, 5)) };
    }, href ?? '');
    expect(pdf).toMatchObject({ type: 'application/pdf', begins: '%PDF-', kept: expect.stringContaining('inline') });
    await sheet.click();
    await steps.waitFor({ state: 'detached' });
  }, MOST_MS + 60_000);
});

import { describe, expect, it } from 'vitest';
import { sampleOrder } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();
const scanFile = (name: string): string => new URL(`../../sample-meshes/${name}`, import.meta.url).pathname;

describe('arrivals', () => {
  it('lead an assistant from nothing to both casts with the maker', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'assistant', '/arrivals');
    watched.complaints.length = 0;
    await page.getByRole('heading', { name: 'Nothing has arrived yet' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'arrivals-nothing');

    await page.keyboard.press('n');
    await page.getByRole('heading', { name: 'Book in an order' }).waitFor();
    await page.getByLabel('Order number').fill('A-100');
    await page.getByLabel('Made for').fill('clog-type');
    for (const [label, value] of [['Heel end', '20'], ['Toe end', '2,5'], ['Heel to hinge', '178'], ['Hinge to toe', '84']]) await page.getByLabel(`${label} (mm)`).fill(value);
    await page.getByRole('img', { name: /Rear plate down to the hinge 6\.5°, front plate up 1\.7°/ }).waitFor();
    await page.getByLabel('Remarks').fill('Hut clog, pair.');
    // What is typed outlives a reload of the page.
    await page.reload();
    expect(await page.getByLabel('Order number').inputValue()).toBe('A-100');
    await page.getByRole('button', { name: 'Add a new customer' }).click();
    await page.getByLabel('Name (may be left out)').fill('Customer of the hut');
    await page.getByLabel('The customer has agreed to this').check();
    await page.getByLabel('Keep until').fill('2031-12-31');
    await expectSound(watched);
    await keepPicture(page, 'booking-filled');
    await page.getByRole('button', { name: 'Book in', exact: true }).click();

    await page.getByRole('heading', { name: 'Order A-100' }).waitFor();
    // Nothing personal stays behind in the tab.
    expect(await page.evaluate('JSON.stringify(sessionStorage)')).not.toContain('hut');
    await page.getByText('to be scanned').first().waitFor();
    await expectSound(watched);
    await keepPicture(page, 'order-to-scan');

    await page.getByLabel('Choose scans').setInputFiles([scanFile('2043-left.stl'), scanFile('2043-right.stl')]);
    await page.getByText(/Booked to the left cast/).waitFor({ timeout: 90_000 });
    await page.getByText(/Booked to the right cast/).waitFor({ timeout: 90_000 });
    await page.getByText(/looking for marks|mending|reading|standing|building|measuring/).first().waitFor({ timeout: 60_000 });
    await keepPicture(page, 'order-in-work');
    await page.locator('.verdict-head').nth(1).waitFor({ timeout: 120_000 });
    await page.locator('.cast-view.is-open').nth(1).waitFor({ timeout: 60_000 });
    await expectSound(watched);
    await keepPicture(page, 'order-verdict');

    const left = page.getByRole('region', { name: 'Left cast' });
    await left.getByLabel('Note to the maker').fill('Scanned twice, the first one slipped.');
    await left.getByRole('button', { name: 'Give the note' }).click();
    await left.getByRole('button', { name: 'Give the note' }).waitFor({ state: 'detached' });
    await page.getByRole('link', { name: 'Arrivals' }).first().click();
    await page.getByRole('button', { name: /With the maker/ }).getByText('2').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'arrivals-with-maker');
    const { body } = await workshop().maker('GET', '/casts?state=to-review');
    expect(body.items).toHaveLength(2);
  });

  it('take an order as JSON and show what is wrong with it at its field', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'assistant', '/arrivals/new');
    watched.complaints.length = 0;
    await page.getByRole('button', { name: 'From JSON' }).click();
    const order = sampleOrder('2043');
    await page.getByRole('textbox', { name: 'Order as JSON' }).fill(JSON.stringify({ ...order, footbed: { ...order.footbed, heelHeightMm: 900 }, tape: { left: { 'foot-length': 27 } }, colour: 'red' }));
    await page.getByRole('button', { name: 'Fill the form' }).click();
    expect(await page.getByLabel('Heel end (mm)').inputValue()).toBe('900');
    await page.getByRole('button', { name: 'Book in', exact: true }).click();
    await page.getByText('must be at most 150 mm').waitFor();
    await page.getByText('must be at least 100 mm; is it in another unit?').waitFor();
    await page.getByRole('button', { name: 'Leave colour out' }).waitFor();
    await keepPicture(page, 'booking-faults');
    expect(watched.complaints.filter((text) => !text.includes('422'))).toEqual([]);
    watched.complaints.length = 0;
    await expectSound(watched);
    await page.getByRole('button', { name: 'Leave colour out' }).click();
    await page.getByLabel('Heel end (mm)').fill('20');
    await page.getByLabel('foot length, left, mm').fill('270');
    await page.getByRole('button', { name: 'Book in', exact: true }).click();
    await page.getByRole('heading', { name: 'Order 2043' }).waitFor();
  });
});

import { describe, expect, it } from 'vitest';
import { bookIn } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { accessibilityFaults, expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { manyOrders } from '../support/many-orders.ts';

const workshop = workshopService();
const browser = openBrowser();
const TABLET = { width: 820, height: 1180 };
/** A picture of two by two pixels. */
const PNG = Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAIAAAACCAIAAAD91JpzAAAAFklEQVR4nGP8z8DAwMDAxMDAwMDAAAANHQEDasKb6QAAAABJRU5ErkJggg==', 'base64');

describe('a thousand casts', () => {
  it('are listed part by part, found by customer, and chosen by what they wait for', async () => {
    const { service } = workshop();
    await manyOrders(service.runtime.records.db, 500);
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, service.url, 'assistant', '/arrivals');
    watched.complaints.length = 0;
    await page.getByRole('link', { name: 'many-499' }).waitFor();
    expect(await page.locator('.order-table tbody tr').count()).toBe(50);
    await page.getByRole('button', { name: 'Show more' }).click();
    await expect.poll(() => page.locator('.order-table tbody tr').count()).toBe(100);
    await expectSound(watched);
    await keepPicture(page, 'arrivals-many');
    await page.keyboard.press('6');
    await page.getByRole('button', { name: /With the maker/, pressed: true }).getByText('200').waitFor();
    await page.keyboard.press('ArrowDown');
    expect(await page.evaluate('document.activeElement.className')).toBe('to-order');
    await page.keyboard.press('/');
    await page.keyboard.type('customer 123');
    await page.getByText('Customer 123', { exact: true }).waitFor();
    await expect.poll(() => page.locator('.order-table tbody tr').count()).toBe(1);
    // Where nothing fits, it says so and shows the way back.
    await page.getByPlaceholder('Order number or customer').fill('nobody at all');
    await page.getByText('No order or customer like “nobody at all”').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'arrivals-none-found');
    await page.getByRole('button', { name: 'Show all that is open' }).click();
    await page.getByRole('link', { name: 'many-499' }).waitFor();
  });

  it('are readable on a tablet, in the dark too', async () => {
    for (const dark of [false, true]) {
      const watched = await browser.open(TABLET, dark);
      const { page } = watched;
      await signInAs(page, workshop().service.url, 'assistant', '/arrivals');
      watched.complaints.length = 0;
      await page.getByRole('link', { name: 'many-499' }).waitFor();
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await expectSound(watched);
      await keepPicture(page, `arrivals-tablet-${dark ? 'dark' : 'light'}`);
      await page.getByRole('link', { name: 'Book in an order' }).click();
      await page.getByLabel('Order number').waitFor();
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await expectSound(watched);
      await keepPicture(page, `booking-tablet-${dark ? 'dark' : 'light'}`);
    }
  });
});

describe('what is known of a cast', () => {
  it('is kept as it dries, with photos', async () => {
    const watched = await browser.open(TABLET);
    const { page } = watched;
    const { assistant, service } = workshop();
    const { orderId, castId } = await bookIn(assistant, { content: { sides: ['left'] } });
    await signInAs(page, service.url, 'assistant', `/arrivals/${orderId}`);
    watched.complaints.length = 0;
    await page.getByText('on the way').first().waitFor();
    await page.getByRole('button', { name: 'Arrived damp …' }).click();
    await page.getByLabel('To dry for (h)').fill('36');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('36 h to go').waitFor();
    await page.getByLabel('Add photos').setInputFiles([{ name: 'one.png', mimeType: 'image/png', buffer: PNG }]);
    await page.getByRole('img', { name: 'Photo 1 of the left cast' }).waitFor();
    await page.getByLabel('Add photos').setInputFiles([{ name: 'two.gif', mimeType: 'image/gif', buffer: Buffer.from('GIF89a') }]);
    await page.getByRole('alert').getByText('Photos are JPEG or PNG.').waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await keepPicture(page, 'order-drying-tablet');
    await page.getByRole('button', { name: 'It is dry enough now' }).click();
    await page.getByText('to be scanned').first().waitFor();
    expect((await assistant('GET', `/casts/${castId}`)).body).toMatchObject({ photos: [{ type: 'image/png' }], drying: { how: 'in the air, standing free' } });
  });
});

describe('an order that someone else changes meanwhile', () => {
  it('takes over what they changed, asks about what both did, and loses nothing', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    const { orderId, orderNumber } = await bookIn(assistant, { content: { remarks: 'As it was.', load: 'seated' } });
    await signInAs(page, service.url, 'assistant', `/arrivals/${orderId}`);
    await page.getByRole('link', { name: 'Change the order' }).click();
    await page.getByLabel('Remarks').fill('What I typed.');
    await page.getByLabel('Layers of bandage').fill('7');
    await assistant('PATCH', `/orders/${orderId}`, { content: { orderNumber, remarks: 'What they typed.', load: 'full' } }, { 'if-match': '"1"' });
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Someone else changed this order meanwhile.').waitFor();
    expect(await page.getByLabel('Remarks').inputValue()).toBe('What I typed.');
    expect(await page.getByLabel('Weight on the foot').inputValue()).toBe('full');
    expect(await accessibilityFaults(page)).toEqual([]);
    await keepPicture(page, 'order-changed-meanwhile');
    await page.getByRole('button', { name: 'Take theirs' }).click();
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByRole('heading', { name: `Order ${orderNumber}`, exact: true }).waitFor();
    expect((await assistant('GET', `/orders/${orderId}`)).body.content).toEqual({ orderNumber, sides: ['left', 'right'], remarks: 'What they typed.', load: 'full', plaster: { layers: 7 } });
  });
});

describe('a lost connection', () => {
  it('is told of, and what changed meanwhile is there when it comes back', async () => {
    const watched = await browser.open();
    const { page } = watched;
    const { assistant, service } = workshop();
    const first = await bookIn(assistant);
    await signInAs(page, service.url, 'assistant', '/arrivals');
    await page.getByRole('link', { name: first.orderNumber, exact: true }).waitFor();
    await page.context().setOffline(true);
    await page.getByText('No connection.').waitFor();
    await keepPicture(page, 'no-connection');
    const { orderNumber } = await bookIn(assistant);
    await page.context().setOffline(false);
    await page.getByText('No connection.').waitFor({ state: 'detached' });
    await page.getByRole('link', { name: orderNumber, exact: true }).waitFor();
  });
});

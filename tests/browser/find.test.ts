import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { GROWN_CUSTOMER, LEFT_LENGTHS, feetOverYears } from '../support/feet-over-years.ts';
import { manyOrders } from '../support/many-orders.ts';

const workshop = workshopService();
const browser = openBrowser();
const url = () => workshop().service.url;

beforeAll(async () => {
  const { db } = workshop().service.runtime.records;
  await feetOverYears(db);
  await manyOrders(db, 600);
});

describe('finding', () => {
  it('searches customers, orders and lasts at once, keeps the search in the address, and shows more on demand', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, url(), 'assistant', '/find');
    await page.getByRole('heading', { name: /Lasts and casts/ }).waitFor();
    await page.getByText('12 and more').first().waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'find-empty-search');

    await page.getByLabel('Number or name').fill('grown');
    await page.waitForURL(/q=grown/);
    // What was listed before may hold some of what is looked for: it must be gone before the new lists are waited for.
    await page.getByRole('link', { name: /^many-\d+$/ }).first().waitFor({ state: 'detached' });
    await page.getByRole('link', { name: /^Customer \d+$/ }).first().waitFor({ state: 'detached' });
    await page.getByRole('region', { name: 'Customers' }).getByRole('link', { name: 'A grown customer' }).waitFor();
    await page.getByRole('link', { name: 'grown-4', exact: true }).waitFor();
    await page.getByRole('link', { name: 'grown-4 left' }).waitFor();
    await keepPicture(page, 'find-search');
    // By the arrow keys into what was found.
    await page.keyboard.press('ArrowDown');
    expect(await page.evaluate(() => (globalThis as unknown as { document: { activeElement: { textContent: string } } }).document.activeElement.textContent)).toBe('A grown customer');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'The feet over the years' }).waitFor();
    await page.goBack();
    await expect.poll(() => page.getByLabel('Number or name').inputValue()).toBe('grown');

    await page.getByLabel('Number or name').fill('many-59');
    await page.getByRole('link', { name: 'many-599', exact: true }).waitFor();
    await page.getByLabel('State of the cast').selectOption('recast');
    await page.waitForURL(/state=recast/);
    await expect.poll(async () => (await page.locator('table').last().locator('tbody tr').allTextContents()).every((text) => text.includes('to be cast again'))).toBe(true);
    await page.getByLabel('State of the cast').selectOption('');
    await page.getByLabel('Number or name').fill('');
    await page.getByLabel('Kind of footwear').selectOption('boot-type');
    await page.getByRole('link', { name: 'grown-0 right' }).waitFor();
    await page.getByLabel('To', { exact: true }).fill('2021-01-01');
    await page.getByRole('link', { name: 'grown-4', exact: true }).waitFor({ state: 'detached' });
    await page.getByRole('link', { name: 'grown-1', exact: true }).waitFor();
    await page.goto(`${url()}/find?q=nothing+of+this`);
    await page.getByText('No order fits.').waitFor();
    await expectSound(watched);
    await page.goto(`${url()}/find?q=many`);
    await page.getByRole('button', { name: 'More lasts and casts' }).click();
    await expect.poll(() => page.locator('table').last().locator('tbody tr').count()).toBe(112);
  });

  it('shows how the feet of a customer grew, as a chart and as a table', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, url(), 'maker', `/find/customers/${GROWN_CUSTOMER}`);
    const chart = page.getByRole('img', { name: /foot length of left and right over time/ });
    await chart.waitFor();
    expect(await chart.locator('circle.point').count()).toBe(LEFT_LENGTHS.length + 1);
    expect(await chart.locator('rect.point').count()).toBe(LEFT_LENGTHS.length + 1);
    await page.getByText('left: +13.7 mm since 2 Apr 2019 (± 0.7)').waitFor();
    // The table has every number of the chart.
    for (const [, length] of LEFT_LENGTHS) await page.getByRole('cell', { name: `${length.toFixed(1)} ± 0.5` }).waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'find-customer');
    await page.getByLabel('Measure').selectOption('ball-girth');
    await page.getByRole('img', { name: /ball girth/ }).waitFor();
    await page.getByRole('cell', { name: `${(0.93 * LEFT_LENGTHS[0][1]).toFixed(1)} ± 1.1` }).waitFor();
    await page.getByLabel(/Compare left of 2 Apr 2019/).check();
    await page.getByLabel(/Compare right of 11 Feb 2026/).check();
    expect(await page.getByRole('button', { name: 'Compare the two casts chosen' }).isEnabled()).toBe(true);
    expect(await page.getByText('What the customer may ask for').count()).toBe(0);
  });

  it('changes particulars, and shows what someone else changed meanwhile beside what was typed', async () => {
    const watched = await browser.open({ width: 1920, height: 1080 }, true);
    const { page } = watched;
    await signInAs(page, url(), 'assistant', `/find/customers/${GROWN_CUSTOMER}`);
    await page.getByRole('button', { name: 'Change', exact: true }).click();
    await page.getByLabel('Contact').fill('by telephone, after six');
    const { maker } = workshop();
    const now = await maker('GET', `/customers/${GROWN_CUSTOMER}`);
    await maker('PATCH', `/customers/${GROWN_CUSTOMER}`, { name: 'A customer of another name' }, { 'if-match': now.headers.get('etag') ?? '' });
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('There now; what you typed is still above.').waitFor();
    await page.getByText('Name: A customer of another name').waitFor();
    expect(await page.getByLabel('Contact').inputValue()).toBe('by telephone, after six');
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'find-meanwhile-dark');
    await page.getByLabel('Name', { exact: true }).fill('A customer of another name');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByRole('heading', { name: 'A customer of another name' }).waitFor();
    expect((await maker('GET', `/customers/${GROWN_CUSTOMER}`)).body).toMatchObject({ name: 'A customer of another name', contact: 'by telephone, after six' });
    await keepPicture(page, 'find-customer-dark');
  });

  it('hands out what is kept of a customer, and erases it once its number is typed', async () => {
    const watched = await browser.open();
    const { page } = watched;
    await workshop().administrator('POST', '/people', { name: 'chief', displayName: 'Chief', role: 'administrator', password: 'plaster of the third day' });
    await signInAs(page, url(), 'chief', `/find/customers/${GROWN_CUSTOMER}`);
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Save all that is kept as one file' }).click()]);
    expect(download.suggestedFilename()).toBe('customer-K-0777.zip');
    expect(readFileSync(await download.path()).subarray(0, 2).toString()).toBe('PK');
    await page.getByRole('button', { name: 'Erase the customer' }).click();
    const erase = page.getByRole('button', { name: 'Erase for good' });
    expect(await erase.isDisabled()).toBe(true);
    await page.getByLabel('Type the number K-0777 to confirm').fill('K-077');
    expect(await erase.isDisabled()).toBe(true);
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'find-erase');
    await page.getByLabel('Type the number K-0777 to confirm').fill('K-0777');
    await erase.click();
    await page.getByText('This customer was erased on').waitFor();
    await expectSound(watched);
    expect((await workshop().maker('GET', '/orders?search=grown')).body.items).toEqual([]);
  });
});

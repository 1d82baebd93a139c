import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { batches } from '@cast-to-last/runtime/records/schema';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { LARGE_BATCH, largeBatch } from '../support/large-batch.ts';

const workshop = workshopService();
const browser = openBrowser();
const CASTS = 1000;

describe('a batch of a thousand casts', () => {
  it('says that there is none before there is one', async () => {
    const watched = await browser.open();
    await signInAs(watched.page, workshop().service.url, 'maker', '/batches');
    await watched.page.getByText('No batch was begun yet.').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await watched.page.getByRole('link', { name: 'Begin a batch' }).click();
    await watched.page.getByText('No cast with a result fits.').waitFor();
    await expectSound(watched);
    await keepPicture(watched.page, 'batches-begin-none');
  });

  it('stays quick: few rows are there at a time, sorted by the largest change, walked by key, sorted and found in no time', async () => {
    const { service } = workshop();
    await largeBatch(service.runtime.records.db, CASTS);
    const watched = await browser.open({ width: 1280, height: 800 });
    const { page } = watched;
    await signInAs(page, service.url, 'maker', `/batches/${LARGE_BATCH}`);
    const table = page.getByRole('table', { name: 'Casts of this batch' });
    await page.getByRole('button', { name: 'All (1000)' }).waitFor();
    expect(Number(await table.getAttribute('aria-rowcount'))).toBe(CASTS + 1);
    const rows = table.locator('[aria-rowindex]');
    expect(await rows.count()).toBeLessThan(60);
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'batches-large');

    const largest = async () => Number(await rows.first().locator('.number').first().textContent());
    expect(await largest()).toBeGreaterThan(5.5);
    // To the last row and back, by a girth, and to one order.
    await table.focus();
    await page.keyboard.press('End');
    await table.locator(`[aria-rowindex="${CASTS + 1}"][aria-current=true]`).waitFor();
    await table.getByRole('button', { name: 'waist' }).click();
    await table.getByRole('columnheader', { name: 'waist' }).and(page.locator('[aria-sort=descending]')).waitFor();
    await page.getByPlaceholder('Order number').fill('large-777');
    await expect.poll(() => table.getAttribute('aria-rowcount')).toBe('2');
    await page.getByPlaceholder('Order number').fill('');

    // What could not be made, and what to do.
    await page.getByRole('button', { name: 'Without a result (100)' }).click();
    await page.waitForURL(/show=trouble/);
    await rows.first().getByRole('link').click();
    await page.getByText('The ball girth that the rules ask for cannot be reached.').waitFor();
    await page.getByText('Ask for less in last.ease.ball.').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'batches-refused');
    await page.keyboard.press('Escape');

    // No by key, yes by key; a row that was decided leaves the open ones.
    await page.getByRole('button', { name: 'To decide (900)' }).click();
    await table.getByRole('button', { name: 'Largest, mm' }).click();
    await table.focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('d');
    await page.getByRole('button', { name: 'To decide (899)' }).waitFor();
    await page.getByRole('button', { name: 'Declined (1)' }).click();
    await rows.first().getByRole('link').click();
    await page.getByRole('button', { name: 'Decide again' }).click();
    await page.getByRole('button', { name: 'To decide (900)' }).waitFor();
    await page.keyboard.press('a');
    await page.getByRole('button', { name: 'Accepted (1)' }).waitFor();

    // What another one does meanwhile is here at once.
    const { items } = (await workshop().maker('GET', `/batches/${LARGE_BATCH}/items?limit=200`)).body;
    const open = items.filter((item: { verdict: string | null; state: string }) => item.verdict === null && item.state === 'done').slice(0, 3);
    await workshop().maker('POST', `/batches/${LARGE_BATCH}/decline`, { itemIds: open.map(({ id }: { id: string }) => id) });
    await page.getByRole('button', { name: 'Declined (3)' }).waitFor();
    await page.goto(`${service.url}/batches/${LARGE_BATCH}`);
    await page.getByLabel('surface within').fill('0.3');
    await page.getByText(/takes \d{2,3} of 89\d open rows/).waitFor();
    await page.getByRole('button', { name: /^Accept \d+$/ }).click();
    await page.getByRole('button', { name: 'Accept them' }).click();
    await page.getByText(/casts accepted\./).waitFor({ timeout: 60_000 });
  });

  it('is read in the dark and on a large screen, and by an assistant without a word in it', async () => {
    const watched = await browser.open({ width: 1920, height: 1080 }, true);
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'assistant', `/batches/${LARGE_BATCH}`);
    await page.getByRole('button', { name: 'All (1000)' }).waitFor();
    expect(await page.getByRole('button', { name: /^Accept \d/ }).count()).toBe(0);
    watched.complaints.length = 0;
    await expectSound(watched);
    await keepPicture(page, 'batches-large-dark');
  });

  it('is ended early after a question, or gone on with, and the page follows', async () => {
    const { service } = workshop();
    const { db } = service.runtime.records;
    const [{ filter }] = await db.select({ filter: batches.filter }).from(batches).where(eq(batches.id, LARGE_BATCH));
    // Casts that were erased meanwhile: there is nothing to make of them.
    const castIds = [...(filter.castIds as string[]), ...Array.from({ length: 3 }, () => randomUUID())];
    const pause = () => db.update(batches).set({ state: 'paused', filter: { castIds } }).where(eq(batches.id, LARGE_BATCH));
    await pause();
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, service.url, 'maker', `/batches/${LARGE_BATCH}`);
    await page.getByText('1000 of 1,003 casts made').waitFor();
    const state = (words: string) => page.locator('.progress-line .state').filter({ hasText: words }).waitFor();
    await state('paused');
    await page.getByRole('button', { name: 'End early' }).click();
    await page.getByText('End it with 1000 of 1003 made?').waitFor();
    watched.complaints.length = 0;
    await expectSound(watched);
    await page.getByRole('button', { name: 'End it', exact: true }).click();
    await state('ended early');
    await pause();
    await page.reload();
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByRole('button', { name: 'All (1003)' }).waitFor();
    await state('● made');
    await page.getByRole('button', { name: 'Without a result (103)' }).click();
    await page.getByRole('table', { name: 'Casts of this batch' }).getByText('not made').first().waitFor();
    await expectSound(watched);
  });
});

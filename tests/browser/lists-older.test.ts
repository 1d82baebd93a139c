import { beforeAll, describe, expect, it } from 'vitest';
import { batches, ruleSets } from '@cast-to-last/runtime/records/schema';
import { workshopService } from '../support/api-service.ts';
import { openBrowser, signInAs } from '../support/browser.ts';
import { rowId } from '../support/row-id.ts';
import { buildPackages } from '../support/run-cli.ts';

const workshop = workshopService();
const browser = openBrowser();
beforeAll(buildPackages);

const AT = Date.parse('2026-03-01T08:00:00.000Z');

/** Batches by the hour, the newest paused, straight into the table: what the list shows of them needs no cast. */
async function manyBatches(count: number): Promise<string> {
  const { db } = workshop().service.runtime.records;
  const [rules] = await db.select({ id: ruleSets.id }).from(ruleSets).limit(1);
  const rows = Array.from({ length: count }, (_, i) => {
    const at = new Date(AT + i * 3_600_000).toISOString();
    return { version: 1, createdAt: at, changedAt: at, id: rowId(21, i), name: `batch ${i}`, ruleSetId: rules.id, filter: { castIds: [] }, state: i === count - 1 ? 'paused' as const : 'ended' as const };
  });
  await db.insert(batches).values(rows);
  return rows[count - 1].id;
}

async function manyVersions(count: number): Promise<void> {
  const { db } = workshop().service.runtime.records;
  const [rules] = await db.select().from(ruleSets).limit(1);
  await db.insert(ruleSets).values(Array.from({ length: count }, (_, i) => {
    const at = new Date(AT - i * 3_600_000).toISOString();
    return { ...rules, createdAt: at, changedAt: at, id: rowId(22, i), name: `older ${i}`, sha256: rowId(22, i).replaceAll('-', '').padEnd(64, '0') };
  }));
}

describe('lists that are shown part by part', () => {
  it('batches: a failure is shown, older ones come on the next try and stay when news come', async () => {
    const paused = await manyBatches(60);
    const { service, maker } = workshop();
    const { page } = await browser.open();
    await signInAs(page, service.url, 'maker', '/batches');
    const rows = page.locator('tbody tr');
    const older = page.getByRole('button', { name: 'Show older batches' });
    await older.waitFor();
    expect(await rows.count()).toBe(50);

    await page.route(/\/batches\?.*after=/, (route) => route.abort());
    await older.click();
    await page.getByRole('alert').waitFor({ timeout: 10_000 });
    expect(await rows.count()).toBe(50);
    await page.unroute(/\/batches\?.*after=/);
    await older.click();
    await expect.poll(() => rows.count()).toBe(60);
    expect(await page.getByRole('alert').count()).toBe(0);

    await maker('POST', `/batches/${paused}/cancel`);
    await rows.first().getByText('ended early').waitFor({ timeout: 10_000 });
    expect(await rows.count()).toBe(60);
  });

  it('versions of the rules: a failure is shown, older ones come on the next try', async () => {
    await manyVersions(110);
    const { page } = await browser.open();
    await signInAs(page, workshop().service.url, 'maker', '/rules');
    const rows = page.locator('tbody tr');
    const older = page.getByRole('button', { name: 'Show older versions' });
    await older.waitFor();
    expect(await rows.count()).toBe(100);
    await page.route(/\/rules\?.*after=/, (route) => route.abort());
    await older.click();
    await page.getByRole('alert').waitFor({ timeout: 10_000 });
    await page.unroute(/\/rules\?.*after=/);
    await older.click();
    await expect.poll(() => rows.count()).toBe(111);
  });
});

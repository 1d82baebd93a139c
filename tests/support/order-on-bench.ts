import type { Page } from 'playwright-core';
import { beforeAll } from 'vitest';
import { sampleOrder, sampleScan, until, upload } from './api-cast.ts';
import type { Workshop } from './api-service.ts';
import { workshopService } from './api-service.ts';
import type { WatchedPage } from './browser.ts';
import { openBrowser, signInAs } from './browser.ts';

type Side = 'left' | 'right';

/** Books in the sample order 2043 and has both casts made into lasts. */
async function begin({ assistant, maker }: Workshop): Promise<void> {
  // Deeper marks than these ask, so that there is something to decide.
  await maker('POST', '/rules', { name: 'bench', content: { marks: { depthThresholdMm: 2 } }, note: 'asks early' });
  const orderId = (await assistant('POST', '/orders', { content: sampleOrder('2043') })).body.id;
  for (const side of ['left', 'right'] as const) {
    const castId = (await assistant('POST', `/orders/${orderId}/casts`, { side })).body.id;
    await upload(assistant, castId, sampleScan(`2043-${side}.stl`), `2043-${side}.stl`);
    await until(() => assistant('GET', `/casts/${castId}`), ({ body }) => body.state !== 'in-work');
  }
}

/** A workshop of its own for a file, with both casts of an order made, and a browser. */
export function orderOnBench() {
  const workshop = workshopService({}, null, { name: 'bench', begin });
  const browser = openBrowser();
  let orderId = '';
  const castIds = { left: '', right: '' };
  beforeAll(async () => {
    const { body } = await workshop().assistant('GET', '/orders?search=2043');
    orderId = body.items[0].id;
    for (const { id, side } of body.items[0].casts) castIds[side as Side] = id;
  });
  return {
    workshop,
    browser,
    orderId: () => orderId,
    /** A page on which this account stands before the order, or where `path` says. */
    open: async (name: string, path = `/bench/${orderId}`, size?: { width: number; height: number }, dark = false): Promise<WatchedPage> => {
      const watched = await browser.open(size, dark);
      await signInAs(watched.page, workshop().service.url, name, path);
      watched.complaints.length = 0;
      return watched;
    },
    /** The cast of a side with its present result and the report of it. */
    currentOf: async (side: Side) => {
      const { maker } = workshop();
      const cast = (await maker('GET', `/casts/${castIds[side]}`)).body;
      return { cast, revision: (await maker('GET', `/revisions/${cast.currentRevisionId}`)).body, report: (await maker('GET', `/revisions/${cast.currentRevisionId}/files/report.json`)).body };
    },
  };
}

/** Waits until so many feet are drawn at full detail, with their reports. */
export async function drawn(page: Page, count = 2): Promise<void> {
  await page.locator('.mark-row').first().waitFor();
  await until(async () => ((await page.locator('.scene').getAttribute('data-full')) ?? '').split(' ').filter((key) => key.endsWith(':cleaned')).length, (there) => there === count);
}

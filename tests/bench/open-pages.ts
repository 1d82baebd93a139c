import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { Browser, Page } from 'playwright-core';
import { openService } from '@cast-to-last/api/open-service';
import type { OpenService } from '@cast-to-last/api/open-service';
import { readConfig } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import type { BenchCast } from './bench-cast.js';

const PROGRAMS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const ARGUMENTS = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'];
const PASSWORD = 'a figure of the pages';

/** A service of its own with a maker signed in, and a browser that draws in software. */
export interface OpenPages {
  readonly page: Page;
  readonly url: string;
  /** Books in an order with these casts and waits until they are made; the order's id. */
  bookIn(number: string, casts: readonly (BenchCast & { readonly as: 'left' | 'right' })[]): Promise<string>;
  close(): Promise<void>;
}

export async function openPages(): Promise<OpenPages> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-pages-'));
  const config = readConfig({ CAST_DATA_FOLDER: folder, DRAIN_S: '0', LOG_LEVEL: 'silent', JOB_MEMORY_MB: '4096' });
  const service: OpenService = await openService(config, openLog(config, 'bench'));
  const executablePath = PROGRAMS.find(existsSync);
  if (executablePath === undefined) throw new Error('There is no Chromium; npm test says what to install.');
  const browser: Browser = await chromium.launch({ executablePath, args: ARGUMENTS });
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, baseURL: service.url });
  const page = await context.newPage();
  const token = service.firstAccountUrl?.split('#')[1];
  const say = async (method: string, path: string, body?: unknown, bytes?: Uint8Array): Promise<never> => {
    const csrf = body !== undefined && path === '/first-account' ? undefined : await session();
    const response = await context.request.fetch(`/api/v1${path}`, {
      method, data: bytes === undefined ? (body as object | undefined) : Buffer.from(bytes), timeout: 600_000,
      headers: { ...(bytes === undefined ? body !== undefined && { 'content-type': 'application/json' } : { 'content-type': 'application/octet-stream', 'upload-offset': '0' }), ...(csrf !== undefined && { 'x-csrf-token': csrf }) },
    });
    if (!response.ok()) throw new Error(`${method} ${path}: ${response.status()} ${await response.text()}`);
    const text = await response.text();
    return (text === '' ? null : JSON.parse(text)) as never;
  };
  let known: string | undefined;
  const session = async (): Promise<string> => (known ??= ((await (await context.request.get('/api/v1/session')).json()) as { csrf: string }).csrf);
  await say('POST', '/first-account', { token, name: 'maker', displayName: 'Maker', password: PASSWORD });

  return {
    page, url: service.url,
    bookIn: async (number, casts) => {
      const { id: orderId } = (await say('POST', '/orders', { content: { orderNumber: number } })) as { id: string };
      for (const { path, as } of casts) {
        const { id: castId } = (await say('POST', `/orders/${orderId}/casts`, { side: as })) as { id: string };
        const bytes = readFileSync(path);
        const { id } = (await say('POST', `/casts/${castId}/uploads`, { fileName: `${number}-${as}.stl`, size: bytes.length, sideOverride: true })) as { id: string };
        await say('PATCH', `/uploads/${id}`, undefined, bytes);
        await say('POST', `/uploads/${id}/finish`);
        for (;;) {
          const { state } = (await say('GET', `/casts/${castId}`)) as { state: string };
          if (state === 'to-review') break;
          await page.waitForTimeout(100);
        }
      }
      return orderId;
    },
    close: async () => {
      await browser.close();
      await service.close();
      rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
    },
  };
}

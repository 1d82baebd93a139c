/**
 * Times the bench in a browser that draws in software, and what the files for it add to the work on a cast.
 *
 *   npm run bench:pages -- [--write]
 *
 * --write also writes tests/bench/PAGES.md. Casts are phantoms, kept in the system's temporary folder.
 */
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, totalmem } from 'node:os';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { makeLast } from '@cast-to-last/pipeline/pipeline';
import { signedChange, standingScan } from '@cast-to-last/pipeline/files/review-glb';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { fullFiles, lightFile } from '@cast-to-last/pipeline/files/view-files';
import type { Page } from 'playwright-core';
import { benchCast } from './bench-cast.js';
import { openPages } from './open-pages.js';

const { values } = parseArgs({ options: { write: { type: 'boolean', default: false } } });
const loadBefore = loadavg()[0];
const rows: string[] = [];
const tell = (what: string, aim: string, measured: string): void => {
  process.stderr.write(`${what}: ${measured}\n`);
  rows.push(`| ${what} | ${aim} | ${measured} |`);
};
const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)];
const ms = (time: number): string => `${Math.round(time)} ms`;

/** Run in the page as text, for the loader of TypeScript puts names of its own into functions. */
const TURN = `(async () => {
  const canvas = document.querySelector('.canvas-box > canvas');
  canvas.setPointerCapture = () => undefined;
  const box = canvas.getBoundingClientRect();
  const send = (type, step) => canvas.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, buttons: 1, clientX: box.left + box.width / 4 + 3 * step, clientY: box.top + box.height / 2, bubbles: true }));
  send('pointerdown', 0);
  const times = [];
  let last = 0;
  for (let step = 1; step <= 60; step++) {
    send('pointermove', step);
    const now = await new Promise(requestAnimationFrame);
    if (step > 5) times.push(now - last);
    last = now;
  }
  send('pointerup', 60);
  return times;
})()`;

await addedToTheWork();
const pages = await openPages();
try {
  await opening(await pages.bookIn('300k', [{ ...benchCast(300_000), as: 'left' }]));
  await firstPaint();
  await deciding(await pages.bookIn('250k', [{ ...benchCast(250_000), as: 'left' }]));
  const large = benchCast(500_000);
  await turning(await pages.bookIn('500k', [{ ...large, as: 'left' }, { ...large, as: 'right' }]));
} finally {
  await pages.close();
}
sizes();

async function addedToTheWork(): Promise<void> {
  const bytes = readFileSync(benchCast(250_000).path);
  const outcome = await makeLast({ bytes, fileName: 'cast.stl', side: 'left', kind: 'positive', unit: 'auto' }, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run());
  const [scan, change] = [standingScan(outcome), signedChange(outcome)];
  const times: number[] = [];
  const worked: number[] = [];
  let size = 0;
  for (let n = 0; n < 7; n++) {
    const start = performance.now();
    const before = process.cpuUsage();
    const bodies = { scan, cleaned: outcome.measured.mesh, last: outcome.last.mesh, change };
    const files = [await lightFile(bodies), ...(await fullFiles(bodies))];
    times.push(performance.now() - start);
    const { user, system } = process.cpuUsage(before);
    worked.push((user + system) / 1000);
    size = files.reduce((sum, file) => sum + file.bytes.length, 0);
  }
  tell('files for looking at, added to the work on a cast of 250,000 triangles (median of 7)', '< 300 ms', `${ms(median(times))}, of that ${ms(median(worked))} of a processor; ${(size / 1e6).toFixed(1)} MB`);
}

/** From the address to the first thing that can be read, of what is opened most. */
async function firstPaint(): Promise<void> {
  for (const [place, path] of [['arrivals', '/arrivals'], ['the bench', '/bench'], ['the queue', '/queue']] as const) {
    const times: number[] = [];
    for (let n = 0; n < 3; n++) {
      await pages.page.goto(`${pages.url}${path}`);
      await pages.page.locator('main h1, main h2, main table').first().waitFor();
      times.push((await pages.page.evaluate('performance.now()')) as number);
    }
    tell(`${place}: from the address to the first heading or row that can be read (median of 3)`, '≤ 1.5 s', ms(median(times)));
  }
}

/** From the address to the first picture, and to full detail. */
async function opening(orderId: string): Promise<void> {
  const [first, whole]: number[][] = [[], []];
  for (let n = 0; n < 3; n++) {
    await pages.page.goto(`${pages.url}/bench/${orderId}/left`);
    await pages.page.locator('.scene[data-full*="left:cleaned"]').waitFor();
    const told = await pages.page.evaluate(() => ({ shown: performance.getEntriesByName('shown-left')[0].startTime, now: performance.now() }));
    first.push(told.shown);
    whole.push(told.now);
  }
  tell('300,000 triangles: from the address to the first picture that can be turned (median of 3)', '≤ 1.5 s', ms(median(first)));
  tell('the same to full detail', '–', ms(median(whole)));
}

async function deciding(orderId: string): Promise<void> {
  const { page } = pages;
  await page.goto(`${pages.url}/bench/${orderId}/left`);
  await page.locator('.scene[data-full*="left:cleaned"]').waitFor();
  await page.keyboard.press('n');
  const [times, whole]: number[][] = [[], []];
  for (const [n, key] of ['k', 'n', 'k', 'n', 'k', 'n', 'k', 'n', 'k', 'n', 'k'].entries()) {
    const before = await entries(page, 'preview-full-left');
    await page.keyboard.press(key);
    // Whoever decides has looked at the mark: its pictures are drawn by then.
    if (key === 'n') {
      await page.evaluate('new Promise((resolve) => requestIdleCallback(() => requestIdleCallback(resolve)))');
      continue;
    }
    await page.waitForFunction((count) => performance.getEntriesByName('preview-full-left').length > count, before.length, { timeout: 120_000 });
    // The first also starts the thread that works.
    if (n > 0) times.push((await entries(page, 'preview-left')).at(-1) ?? Number.NaN);
    if (n > 0) whole.push((await entries(page, 'preview-full-left')).at(-1) ?? Number.NaN);
    await page.locator('.foot-line .state:empty').waitFor({ state: 'attached', timeout: 120_000 });
  }
  tell('250,000 triangles: from a decision to the first picture of its preview (median of 5; longest)', '< 2 s', `${ms(median(times))}; ${ms(Math.max(...times))}`);
  tell('the same to full detail', '< 2 s', `${ms(median(whole))}; ${ms(Math.max(...whole))}`);
  const before = await entries(page, 'result-left');
  await page.keyboard.press('u');
  await page.waitForFunction((count) => performance.getEntriesByName('result-left').length > count, before.length, { timeout: 120_000 });
  tell('the same: a decision taken back', '< 2 s', ms((await entries(page, 'result-left')).at(-1) ?? Number.NaN));
}

function entries(page: Page, name: string): Promise<number[]> {
  return page.evaluate((of) => performance.getEntriesByName(of).map(({ duration }) => duration), name);
}

/** Times between frames while the pair is turned by the pointer. */
async function turning(orderId: string): Promise<void> {
  const { page } = pages;
  await page.goto(`${pages.url}/bench/${orderId}`);
  await page.locator('.scene[data-full*="left:cleaned"][data-full*="right:cleaned"]').waitFor({ timeout: 120_000 });
  const times = (await page.evaluate(TURN)) as number[];
  times.sort((a, b) => a - b);
  tell('two casts of 500,000 triangles turned, drawn in software at 850 × 570: time of a frame, median; 95 % within', 'smooth', `${ms(median(times))}; ${ms(times[Math.floor(0.95 * times.length)])}`);
}

function sizes(): void {
  const folder = new URL('../../services/review/dist/assets/', import.meta.url);
  const zipped = readdirSync(folder).filter((name) => name.endsWith('.js')).map((name) => ({ name, bytes: gzipSync(readFileSync(new URL(name, folder))).length }));
  const sum = (kept: (name: string) => boolean): string => `${(zipped.filter(({ name }) => kept(name)).reduce((all, { bytes }) => all + bytes, 0) / 1000).toFixed(0)} kB`;
  tell('all scripts of the pages without three.js, gzip', '≤ 350 kB', sum((name) => !name.startsWith('three')));
  tell('three.js, gzip', '–', sum((name) => name.startsWith('three')));
}

const table = ['| figure | aim | measured |', '|---|---|---|', ...rows].join('\n');
process.stdout.write(`${table}\n`);
if (values.write) {
  const text = [
    '# How fast the bench is',
    '',
    `Measured ${new Date().toISOString().slice(0, 10)} with Node ${process.version} and Chromium drawing in software (no graphics card) on ${cpus().length} × ${cpus()[0].model.trim()}, ${(totalmem() / 1e9).toFixed(0)} GB, by \`npm run bench:pages -- --write\`; load of the machine before and after: ${loadBefore.toFixed(1)}, ${loadavg()[0].toFixed(1)} (with more than 2, other work ran beside it and the times are too long). Service, worker and browser share the processors.`,
    '',
    table,
    '',
  ].join('\n');
  writeFileSync(new URL('PAGES.md', import.meta.url), text);
}

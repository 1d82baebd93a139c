import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { PASSWORD } from './api-service.ts';

const PROGRAMS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const ARGUMENTS = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-gpu-compositing', '--disable-gpu-rasterization', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'];
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A page that notes what the browser complained of. */
export interface WatchedPage {
  readonly page: Page;
  /** Console errors, uncaught faults and refused loads so far. */
  readonly complaints: string[];
}

export interface OpenBrowser {
  /** A fresh profile with one page; `size` in CSS pixels. */
  open(size?: { width: number; height: number }, dark?: boolean, touch?: boolean): Promise<WatchedPage>;
}

/** One headless Chromium, drawing in software, for all tests of a file. */
export function openBrowser(extra: readonly string[] = []): OpenBrowser {
  let browser: Browser;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    const executablePath = PROGRAMS.find(existsSync);
    if (executablePath === undefined) throw new Error('There is no Chromium; npm test says what to install.');
    browser = await chromium.launch({ executablePath, args: [...ARGUMENTS, ...extra] });
  });
  // A page that stays open goes on hearing news: the service holds so many at a time for one account.
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
  });
  return {
    open: async (size = { width: 1280, height: 800 }, dark = false, touch = false) => {
      const context = await browser.newContext({ viewport: size, colorScheme: dark ? 'dark' : 'light', reducedMotion: 'reduce', hasTouch: touch });
      contexts.push(context);
      const page = await context.newPage();
      page.setDefaultTimeout(30_000);
      const complaints: string[] = [];
      page.on('console', (message) => void (message.type() === 'error' && complaints.push(`${message.text()} ${message.location().url}`)));
      page.on('pageerror', (error) => complaints.push(String(error)));
      return { page, complaints };
    },
  };
}

/** Signs in at the page as one of the accounts of the workshop. */
export async function signInAs(page: Page, url: string, name: string, path = '/'): Promise<void> {
  await page.goto(url + path);
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Password').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
}

/** What axe finds at level A and AA on the page as it stands. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  // Put in as a script of the tester, beside the page's content security policy.
  await page.evaluate(AXE);
  const violations = await page.evaluate(async () => {
    const axe = (globalThis as unknown as { axe: { run: (options: unknown) => Promise<{ violations: { id: string; help: string; nodes: { target: unknown[] }[] }[] }> } }).axe;
    return (await axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })).violations;
  });
  return violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target.join(' ')).join('; ')}`);
}

/** Holds a screen to what every screen must be: accessible and without complaints of the browser. */
export async function expectSound({ page, complaints }: WatchedPage): Promise<void> {
  expect(await accessibilityFaults(page)).toEqual([]);
  expect(complaints).toEqual([]);
}

/** Run in the page as text, for the tests' types know no page. */
const FINGER_FAULTS = `(() => {
  const faults = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) faults.push('the page is ' + (root.scrollWidth - root.clientWidth) + ' px wider than the screen');
  for (const element of document.querySelectorAll('a, button, input, select, textarea, summary, [role=tab], .anchor.pressed:not(.away) .tag')) {
    const box = (element.closest('label') ?? element).getBoundingClientRect();
    // Links in a sentence are as high as the sentence.
    const inSentence = element.tagName === 'A' && element.closest('p') !== null && element.closest('p').textContent.trim() !== element.textContent.trim();
    if (box.width < 2 || box.height < 2 || inSentence) continue;
    const reach = Number.parseFloat(getComputedStyle(element, '::after').height) || 0;
    if (Math.max(box.height, reach) < 40) faults.push(element.tagName + ' “' + element.textContent.slice(0, 30) + '” is ' + Math.round(box.height) + ' px high');
  }
  return faults;
})()`;

/** What a finger does not hit well: what is pressed and lower than 40 px, and a page that is wider than its screen. */
export const fingerFaults = (page: Page): Promise<string[]> => page.evaluate<string[]>(FINGER_FAULTS);

/** Keeps a picture of the page where the environment names a folder for them; to be looked at by people. */
export async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = process.env.SCREENSHOTS;
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${name}.png` });
}

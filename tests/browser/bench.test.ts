import { decode } from 'fast-png';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { until } from '../support/api-cast.ts';
import { expectSound, keepPicture } from '../support/browser.ts';
import { drawn, orderOnBench } from '../support/order-on-bench.ts';

const bench = orderOnBench();

/** How many colours stand in the middle of the scene: a foot in light and shade has many, an empty ground one. */
async function shadesOf(page: Page): Promise<number> {
  const { data, channels } = decode(await page.locator('.canvas-box > canvas').screenshot());
  const shades = new Set<number>();
  for (let i = 0; i < data.length; i += channels) shades.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
  return shades.size;
}

describe('the bench', () => {
  it('lists what waits, and is gone through by keys', async () => {
    const watched = await bench.open('maker', '/bench');
    const { page } = watched;
    await page.getByRole('link', { name: /2043/ }).waitFor();
    expect(await page.getByRole('link', { name: /2043/ }).textContent()).toMatch(/Left.*usable.*marks ask.*Right.*usable with care/);
    await expectSound(watched);
    await keepPicture(page, 'bench-list');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Order 2043' }).waitFor();
    await drawn(page);
    expect(await shadesOf(page)).toBeGreaterThan(200);
    await expectSound(watched);
    await keepPicture(page, 'bench-order');
  });

  it('ties pins to the list, shows a mark before and after, and draws what is wished', async () => {
    const watched = await bench.open('maker');
    const { page } = watched;
    await drawn(page);
    await page.keyboard.press('n');
    const first = page.locator('.mark-row[aria-current]');
    await first.waitFor();
    expect(await first.textContent()).toMatch(/asks$/);
    await page.locator('.mark-detail .profile path.after[d^="M"]').waitFor();
    const chosen = page.locator('.anchor.pin.chosen');
    expect(await chosen.textContent()).toBe(await first.locator('.pin-sign').textContent());
    await page.locator('.anchor.pin:not(.away, .chosen) .tag').first().click();
    expect(await page.locator('.anchor.pin.chosen').textContent()).toBe(await page.locator('.mark-row[aria-current] .pin-sign').textContent());
    await page.locator('.close-ups canvas').nth(1).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-mark');

    // What the body hides is drawn weaker: at the heel from the toes, and the other way round.
    const { report } = await bench.currentOf('left');
    const [hindmost] = report.marks.map(({ centre: [x] }: { centre: number[] }, i: number) => ({ x, number: i + 1 })).sort((a: { x: number }, b: { x: number }) => a.x - b.x);
    const pin = page.locator('.anchor.pin').filter({ hasText: new RegExp(`^${hindmost.number}$`) }).first();
    await page.locator('.mark-row[aria-current]').press('Escape');
    for (const [key, away] of [['6', false], ['7', true]] as const) {
      await page.keyboard.press(key);
      expect(await until(async () => / away/.test((await pin.getAttribute('class')) ?? ''), (is) => is === away)).toBe(away);
    }

    await page.keyboard.press('m');
    for (const [key, ids] of [['2', ['foot-length', 'medial-ball-length', 'lateral-ball-length', 'ball-width', 'foot-breadth', 'heel-width']], ['5', ['instep-height', 'toe-height']]] as const) {
      await page.keyboard.press(key);
      for (const id of ids) {
        const m = report.measurements.find((taken: { id: string; on: string }) => taken.id === id && taken.on === 'cast');
        await page.locator('.length-word .tag:visible', { hasText: `${m.label} ${m.value.toFixed(1)} ± ${m.uncertainty.toFixed(1)}` }).first().waitFor();
      }
    }
    expect(await until(() => page.locator('.length-word .tag:visible', { hasText: 'breadth' }).count(), (count) => count === 0)).toBe(0);
    await page.keyboard.press('2');
    await expectSound(watched);
    await keepPicture(page, 'bench-lengths');
    await page.keyboard.press('m');

    for (const key of ['1', 't', 'f', 'b', 'c']) await page.keyboard.press(key);
    await page.locator('.tape-word.left .tag', { hasText: 'ball girth' }).waitFor();
    await page.locator('.plan-word .tag', { hasText: 'pitch 6.5°' }).first().waitFor();
    await page.getByRole('img', { name: /From blue at −1.0 mm/ }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-drawn');
    for (const tab of ['Verdict', 'Measures', 'Allowances', 'Earlier', 'Papers']) {
      await page.getByRole('tab', { name: tab }).click();
      await page.locator('#part h2, #part table, #part fieldset').first().waitFor();
      await expectSound(watched);
      await keepPicture(page, `bench-${tab.toLowerCase()}`);
    }
    await page.getByRole('tab', { name: 'Measures' }).click();
    await page.getByRole('button', { name: 'lay the casts on each other' }).click();
    await page.getByRole('button', { name: 'show where they differ' }).click({ timeout: 90_000 });
    await page.locator('.change-scale', { hasText: 'inside the other' }).waitFor();
    expect(await page.getByRole('region', { name: 'Left against right' }).getByRole('row').allTextContents()).toContainEqual(expect.stringMatching(/^heel[+−]?\d/));
    await expectSound(watched);
    await keepPicture(page, 'bench-pair');
  });

  it('lays the movable section where a tape lies, with the girth that the pipeline took there', async () => {
    const { page } = await bench.open('maker', `/bench/${bench.orderId()}/left`);
    await drawn(page, 1);
    const { report } = await bench.currentOf('left');
    const girth = async (): Promise<number> => Number(/tape ([\d.]+)/.exec((await page.locator('.section-card .girth').textContent()) ?? '')?.[1] ?? Number.NaN);
    await page.keyboard.press('l');
    for (const id of ['ball-girth', 'instep-girth', 'waist-girth']) {
      const taken = report.measurements.find((m: { id: string; on: string }) => m.id === id && m.on === 'cast').value as number;
      await page.locator('.section-card select').selectOption(id);
      expect(await until(girth, (value) => Math.abs(value - taken) <= 0.15)).toBeCloseTo(taken, 0);
    }
    const before = await girth();
    await page.keyboard.press('Shift+ArrowRight');
    expect(await until(girth, (value) => value !== before)).not.toBe(before);
    await keepPicture(page, 'bench-section');
    const tag = page.locator('.section-handle .tag');
    const station = async (): Promise<number> => Number(await page.getByRole('slider', { name: /from the heel/ }).inputValue());
    const [moved, x] = [await girth(), await station()];
    // Waits until the handle stands still: the scene lays it a frame or more after the section has moved.
    await tag.hover();
    const handle = (await tag.boundingBox()) as { x: number; y: number };
    await page.mouse.down();
    await page.mouse.move(handle.x - 50, handle.y + 40, { steps: 4 });
    await page.mouse.up();
    expect(await until(station, (value) => value > x + 5)).toBeGreaterThan(x + 5);
    expect(await until(girth, (value) => value !== moved)).not.toBe(moved);
  });

  it('lets an assistant look and not decide, in the dark and on a large screen', async () => {
    const watched = await bench.open('assistant', `/bench/${bench.orderId()}`, { width: 1920, height: 1080 }, true);
    const { page } = watched;
    await drawn(page);
    await page.keyboard.press('n');
    await page.locator('.mark-detail').waitFor();
    expect(await page.locator('.decide, .patches, [aria-label$=" cast"] .push').count()).toBe(0);
    expect(await page.getByRole('button', { name: 'undo' }).count()).toBe(0);
    await expectSound(watched);
    await keepPicture(page, 'bench-dark-large');
  });
});

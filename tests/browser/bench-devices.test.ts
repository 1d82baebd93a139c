import { describe, expect, it } from 'vitest';
import { until } from '../support/api-cast.ts';
import { expectSound, fingerFaults, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { drawn, orderOnBench } from '../support/order-on-bench.ts';

const bench = orderOnBench();

describe('a tablet', () => {
  it.each([['lying', 1024, 768], ['standing', 768, 1024]] as const)('%s has every place within its screen, to be pressed by a finger', async (how, width, height) => {
    const watched = await bench.browser.open({ width, height }, false, true);
    const { page } = watched;
    await signInAs(page, bench.workshop().service.url, 'maker', `/bench/${bench.orderId()}`);
    watched.complaints.length = 0;
    await drawn(page);
    // Where two lie under one finger, the nearer one is meant.
    const pin = page.locator('.anchor.pin:not(.away) .tag').first();
    // What the body hides is known a little after the pins stand: until then another may be the first.
    const read = async () => ({ at: (await pin.boundingBox()) as { x: number; y: number; width: number; height: number }, number: await pin.textContent() });
    let [before, alike] = ['', 0];
    const { at, number } = await until(read, (now) => {
      const text = JSON.stringify(now);
      alike = text === before ? alike + 1 : 0;
      before = text;
      return alike >= 10;
    });
    await page.touchscreen.tap(at.x + at.width / 2, at.y + at.height / 2);
    await page.locator('.anchor.pin.chosen').waitFor({ state: 'attached' });
    expect(await page.locator('.anchor.pin.chosen').textContent()).toBe(number);
    expect(await page.locator('.mark-row[aria-current] .pin-sign').textContent()).toBe(number);
    await page.locator('.mark-detail .profile path.after[d^="M"]').waitFor();
    expect(await fingerFaults(page)).toEqual([]);
    // The last of the keys at either edge lies within the canvas.
    const box = (await page.locator('.canvas-box').boundingBox()) as { y: number; height: number };
    for (const name of ['toes', 'footbed']) {
      const button = (await page.getByRole('button', { name, exact: true }).boundingBox()) as { y: number; height: number };
      expect(button.y + button.height).toBeLessThanOrEqual(box.y + box.height);
    }
    await expectSound(watched);
    await keepPicture(page, `tablet-${how}-bench`);
    await page.getByRole('button', { name: 'section' }).tap();
    await page.getByRole('tab', { name: 'Allowances' }).tap();
    await page.locator('fieldset').first().waitFor();
    expect(await fingerFaults(page)).toEqual([]);
    await keepPicture(page, `tablet-${how}-allowances`);
    for (const [path, there] of [['/arrivals', '.order-table'], [`/arrivals/${bench.orderId()}`, '.cast-view.is-open'], ['/bench', '.waiting'], ['/queue', 'h1'], ['/find', '.found table'], ['/rules', '.rules table, .in-use'], ['/batches', 'h1']] as const) {
      await page.goto(bench.workshop().service.url + path);
      await page.locator(there).first().waitFor();
      expect(await fingerFaults(page), path).toEqual([]);
      await keepPicture(page, `tablet-${how}${path.split('/').slice(0, 2).join('-')}-${path.length > 12 ? 'order' : 'place'}`);
    }
  });
});

describe('a browser that draws nothing in three dimensions', () => {
  const flat = openBrowser(['--disable-3d-apis']);

  it('has pictures of the service, and decides as ever', async () => {
    const watched = await flat.open();
    const { page } = watched;
    await signInAs(page, bench.workshop().service.url, 'maker', `/bench/${bench.orderId()}/left`);
    watched.complaints.length = 0;
    const picture = page.getByRole('img', { name: 'Left cleaned cast, outer side' });
    await picture.waitFor({ timeout: 60_000 });
    await until(() => picture.evaluate((image) => (image as unknown as { naturalWidth: number }).naturalWidth), (width) => width > 400);
    await page.keyboard.press('n');
    await page.keyboard.press('k');
    await until(async () => (await bench.currentOf('left')).revision, ({ decisions, state }) => decisions.marks.some(({ decision }: { decision: string }) => decision === 'keep') && state === 'done');
    await page.keyboard.press('2');
    await page.getByRole('img', { name: 'Left cleaned cast, top' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-pictures');
  });
});

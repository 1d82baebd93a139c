import { decode } from 'fast-png';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { sampleOrder, sampleScan, until, upload } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import type { WatchedPage } from '../support/browser.ts';
import { expectSound, fingerFaults, keepPicture, openBrowser, signInAs } from '../support/browser.ts';

const workshop = workshopService();
const browser = openBrowser();
let orderId = '';
const castIds = { left: '', right: '' };

beforeAll(async () => {
  const { assistant, maker } = workshop();
  // Deeper marks than these ask, so that there is something to decide.
  await maker('POST', '/rules', { name: 'bench', content: { marks: { depthThresholdMm: 2 } }, note: 'asks early' });
  orderId = (await assistant('POST', '/orders', { content: sampleOrder('2043') })).body.id;
  for (const side of ['left', 'right'] as const) {
    castIds[side] = (await assistant('POST', `/orders/${orderId}/casts`, { side })).body.id;
    await upload(assistant, castIds[side], sampleScan(`2043-${side}.stl`), `2043-${side}.stl`);
  }
  for (const id of Object.values(castIds)) await until(() => assistant('GET', `/casts/${id}`), ({ body }) => body.state !== 'in-work');
});

async function openBench(name: string, path = `/bench/${orderId}`, size?: { width: number; height: number }, dark = false): Promise<WatchedPage> {
  const watched = await browser.open(size, dark);
  await signInAs(watched.page, workshop().service.url, name, path);
  watched.complaints.length = 0;
  return watched;
}

/** Both feet are drawn at full detail, with their reports. */
async function drawn(page: Page, count = 2): Promise<void> {
  await page.locator('.mark-row').first().waitFor();
  await until(async () => ((await page.locator('.scene').getAttribute('data-full')) ?? '').split(' ').filter((key) => key.endsWith(':cleaned')).length, (there) => there === count);
}

const currentOf = async (side: 'left' | 'right') => {
  const { maker } = workshop();
  const cast = (await maker('GET', `/casts/${castIds[side]}`)).body;
  return { cast, revision: (await maker('GET', `/revisions/${cast.currentRevisionId}`)).body, report: (await maker('GET', `/revisions/${cast.currentRevisionId}/files/report.json`)).body };
};

/** How many colours stand in the middle of the scene: a foot in light and shade has many, an empty ground one. */
async function shadesOf(page: Page): Promise<number> {
  const { data, channels } = decode(await page.locator('.canvas-box > canvas').screenshot());
  const shades = new Set<number>();
  for (let i = 0; i < data.length; i += channels) shades.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
  return shades.size;
}

describe('the bench', () => {
  it('lists what waits, and is gone through by keys', async () => {
    const watched = await openBench('maker', '/bench');
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
    const watched = await openBench('maker');
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
    const { report } = await currentOf('left');
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
    const { page } = await openBench('maker', `/bench/${orderId}/left`);
    await drawn(page, 1);
    const { report } = await currentOf('left');
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

  it('takes a decision, shows its preview, takes it back, adds a patch, and signs what is shown', async () => {
    const watched = await openBench('maker');
    const { page } = watched;
    await drawn(page);
    const before = (await currentOf('left')).revision;
    await page.keyboard.press('n');
    await page.keyboard.press('s');
    await page.waitForFunction(() => performance.getEntriesByName('preview-left').length > 0, null, { timeout: 60_000 });
    await until(async () => (await currentOf('left')).revision, ({ id, state }) => id !== before.id && state === 'done');
    await page.getByRole('button', { name: 'Sign left' }).and(page.locator(':enabled')).waitFor({ timeout: 60_000 });
    expect((await currentOf('left')).revision.decisions.marks).toMatchObject([{ decision: 'smooth' }]);
    await page.locator('.mark-detail').getByText('The maker decided: smooth.').waitFor();
    await page.keyboard.press('u');
    await until(async () => (await currentOf('left')).revision.id, (id) => id === before.id);
    await page.keyboard.press('r');
    await until(async () => (await currentOf('left')).revision.id, (id) => id !== before.id);

    await page.keyboard.press('4');
    await page.keyboard.press('d');
    const box = (await page.locator('.canvas-box > canvas').boundingBox()) as { x: number; y: number; width: number; height: number };
    await page.mouse.click(box.x + box.width * 0.5, box.y + box.height * 0.36);
    await page.locator('.patches li', { hasText: 'Left, protected area' }).waitFor();
    await page.keyboard.press('Escape');
    const done = await until(async () => (await currentOf('left')).revision, ({ decisions, state }) => decisions.patches.length === 1 && state === 'done');
    expect(done.decisions.patches).toMatchObject([{ decision: 'protect', radiusMm: 8 }]);

    const sign = page.getByRole('button', { name: 'Sign left' }).and(page.locator(':enabled'));
    await sign.waitFor({ timeout: 60_000 });
    await sign.click();
    await page.getByRole('dialog').getByText(done.fingerprint).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-sign');
    await page.getByRole('dialog').getByRole('button', { name: 'Approve' }).click();
    await page.getByRole('group', { name: 'Left cast' }).getByText('approved').waitFor();
    expect((await currentOf('left')).cast).toMatchObject({ state: 'approved', approvedRevisionId: done.id });
    await page.getByRole('tab', { name: 'Papers' }).click();
    const sheet = await page.request.get(workshop().service.url + (await page.getByRole('link', { name: 'measurement sheet' }).first().getAttribute('href')));
    expect((await sheet.body()).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('tries allowances on one cast alone, with what was asked and got', async () => {
    const { page } = await openBench('maker', `/bench/${orderId}/right`);
    await drawn(page, 1);
    await page.getByRole('tab', { name: 'Allowances' }).click();
    await page.getByRole('spinbutton', { name: 'ease at the ball' }).fill('3');
    await page.keyboard.press('Tab');
    await page.getByRole('checkbox', { name: 'toes levelled, right' }).check();
    await page.locator('#right-toe-box-height').click();
    await page.getByRole('spinbutton', { name: 'toe box height' }).fill('30');
    await page.keyboard.press('Tab');
    expect(await page.getByRole('checkbox', { name: 'toes levelled, right' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Try on the right' }).click();
    const { revision, report } = await until(() => currentOf('right'), ({ report: r }) => r.rules.version.endsWith('changed for this cast'));
    expect(revision.rules.name).toMatch(/^trial /);
    const ball = report.last.allowances.changes.find(({ id }: { id: string }) => id === 'ball-girth');
    expect(ball.asked - ball.before).toBeCloseTo(3, 1);
    expect(Math.abs(ball.got - ball.asked)).toBeLessThan(0.3);
    const box = report.last.allowances.changes.find(({ id }: { id: string }) => id === 'toe-box-height');
    expect(box).toMatchObject({ asked: 30, got: expect.closeTo(30, 1) });
    await page.locator('.allowance-changes tr', { hasText: 'height of the toe box' }).getByText(/^30\.0$/).first().waitFor();
    await page.locator('.allowance-changes', { hasText: 'ball girth' }).waitFor();
    await page.getByText('changed for this cast').waitFor({ timeout: 60_000 });
  });

  it('shows what someone else signed meanwhile, and keeps what was typed', async () => {
    const { page } = await openBench('maker', `/bench/${orderId}/right`);
    await drawn(page, 1);
    const { cast, revision } = await currentOf('right');
    await page.getByRole('button', { name: 'Sign right' }).click();
    await page.getByLabel('Send back').check();
    await page.getByLabel('Why').fill('The toes are not closed.');
    // News of what another signs must not reach the page before the press, however slow it is.
    let refused = false;
    await page.route('**/api/v1/casts/*', (route) => (refused ? route.continue() : route.fulfill({ json: cast })));
    await page.route('**/api/v1/revisions/*/approval', async (route) => {
      const response = await route.fetch();
      refused ||= [409, 412].includes(response.status());
      await route.fulfill({ response });
    });
    await workshop().administrator('POST', `/revisions/${revision.id}/approval`, { verdict: 'approved', fingerprint: revision.fingerprint }, { 'if-match': `"${cast.version}"` });
    await page.getByRole('dialog').getByRole('button', { name: 'Send back' }).click();
    await page.getByRole('dialog').getByText(/now is approved by First/).waitFor();
    expect(await page.getByLabel('Why').inputValue()).toBe('The toes are not closed.');
    await page.getByRole('dialog').getByRole('button', { name: 'Send back' }).click();
    await page.getByRole('group', { name: 'Right cast' }).getByText('sent back').waitFor();
  });

  it('gives one foot the whole scene while the other waits for its scan, and makes room when that is there', async () => {
    const { assistant } = workshop();
    const { body: { id } } = await assistant('POST', '/orders', { content: { ...sampleOrder('2043'), orderNumber: '2043-again' } });
    const [left, right] = [await assistant('POST', `/orders/${id}/casts`, { side: 'left' }), await assistant('POST', `/orders/${id}/casts`, { side: 'right' })].map(({ body }) => body.id as string);
    await upload(assistant, left, sampleScan('2043-left.stl'), '2043-left.stl');
    await until(() => assistant('GET', `/casts/${left}`), ({ body }) => body.state !== 'in-work');
    const { page } = await openBench('maker', `/bench/${id}`);
    await drawn(page, 1);
    for (const key of ['m', '2']) await page.keyboard.press(key);
    const word = page.locator('.length-word .tag:visible', { hasText: 'ball width' }).first();
    const across = async (): Promise<number> => {
      const [tag, canvas] = [await word.boundingBox(), await page.locator('.canvas-box').boundingBox()] as { x: number; width: number }[];
      return (tag.x + tag.width / 2 - canvas.x) / canvas.width;
    };
    expect(Math.abs((await until(across, (x) => Math.abs(x - 0.5) < 0.1)) - 0.5)).toBeLessThan(0.1);
    await keepPicture(page, 'bench-one-of-two');
    await upload(assistant, right, sampleScan('2043-right.stl'), '2043-right.stl');
    expect(await until(across, (x) => x < 0.4)).toBeLessThan(0.4);
    await drawn(page);
    await keepPicture(page, 'bench-both-at-last');
  });

  it('lets an assistant look and not decide, in the dark and on a large screen', async () => {
    const watched = await openBench('assistant', `/bench/${orderId}`, { width: 1920, height: 1080 }, true);
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

describe('a tablet', () => {
  it.each([['lying', 1024, 768], ['standing', 768, 1024]] as const)('%s has every place within its screen, to be pressed by a finger', async (how, width, height) => {
    const watched = await browser.open({ width, height }, false, true);
    const { page } = watched;
    await signInAs(page, workshop().service.url, 'maker', `/bench/${orderId}`);
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
    for (const [path, there] of [['/arrivals', '.order-table'], [`/arrivals/${orderId}`, '.cast-view.is-open'], ['/bench', '.waiting'], ['/queue', 'h1'], ['/find', '.found table'], ['/rules', '.rules table, .in-use'], ['/batches', 'h1']] as const) {
      await page.goto(workshop().service.url + path);
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
    await signInAs(page, workshop().service.url, 'maker', `/bench/${orderId}/left`);
    watched.complaints.length = 0;
    const picture = page.getByRole('img', { name: 'Left cleaned cast, outer side' });
    await picture.waitFor({ timeout: 60_000 });
    await until(() => picture.evaluate((image) => (image as unknown as { naturalWidth: number }).naturalWidth), (width) => width > 400);
    await page.keyboard.press('n');
    await page.keyboard.press('k');
    await until(async () => (await currentOf('left')).revision, ({ decisions, state }) => decisions.marks.some(({ decision }: { decision: string }) => decision === 'keep') && state === 'done');
    await page.keyboard.press('2');
    await page.getByRole('img', { name: 'Left cleaned cast, top' }).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-pictures');
  });
});

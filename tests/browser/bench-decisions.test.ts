import { describe, expect, it } from 'vitest';
import { sampleOrder, sampleScan, until, upload } from '../support/api-cast.ts';
import { expectSound, keepPicture } from '../support/browser.ts';
import { drawn, orderOnBench } from '../support/order-on-bench.ts';

const bench = orderOnBench();

describe('the bench', () => {
  it('takes a decision, shows its preview, takes it back, adds a patch, and signs what is shown', async () => {
    const watched = await bench.open('maker');
    const { page } = watched;
    await drawn(page);
    const before = (await bench.currentOf('left')).revision;
    await page.keyboard.press('n');
    await page.keyboard.press('s');
    await page.waitForFunction(() => performance.getEntriesByName('preview-left').length > 0, null, { timeout: 60_000 });
    await until(async () => (await bench.currentOf('left')).revision, ({ id, state }) => id !== before.id && state === 'done');
    await page.getByRole('button', { name: 'Sign left' }).and(page.locator(':enabled')).waitFor({ timeout: 60_000 });
    expect((await bench.currentOf('left')).revision.decisions.marks).toMatchObject([{ decision: 'smooth' }]);
    await page.locator('.mark-detail').getByText('The maker decided: smooth.').waitFor();
    await page.keyboard.press('u');
    await until(async () => (await bench.currentOf('left')).revision.id, (id) => id === before.id);
    await page.keyboard.press('r');
    await until(async () => (await bench.currentOf('left')).revision.id, (id) => id !== before.id);

    await page.keyboard.press('4');
    await page.keyboard.press('d');
    const box = (await page.locator('.canvas-box > canvas').boundingBox()) as { x: number; y: number; width: number; height: number };
    await page.mouse.click(box.x + box.width * 0.5, box.y + box.height * 0.36);
    await page.locator('.patches li', { hasText: 'Left, protected area' }).waitFor();
    await page.keyboard.press('Escape');
    const done = await until(async () => (await bench.currentOf('left')).revision, ({ decisions, state }) => decisions.patches.length === 1 && state === 'done');
    expect(done.decisions.patches).toMatchObject([{ decision: 'protect', radiusMm: 8 }]);

    const sign = page.getByRole('button', { name: 'Sign left' }).and(page.locator(':enabled'));
    await sign.waitFor({ timeout: 60_000 });
    await sign.click();
    await page.getByRole('dialog').getByText(done.fingerprint).waitFor();
    await expectSound(watched);
    await keepPicture(page, 'bench-sign');
    await page.getByRole('dialog').getByRole('button', { name: 'Approve' }).click();
    await page.getByRole('group', { name: 'Left cast' }).getByText('approved').waitFor();
    expect((await bench.currentOf('left')).cast).toMatchObject({ state: 'approved', approvedRevisionId: done.id });
    await page.getByRole('tab', { name: 'Papers' }).click();
    const sheet = await page.request.get(bench.workshop().service.url + (await page.getByRole('link', { name: 'measurement sheet' }).first().getAttribute('href')));
    expect((await sheet.body()).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('tries allowances on one cast alone, with what was asked and got', async () => {
    const { page } = await bench.open('maker', `/bench/${bench.orderId()}/right`);
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
    const { revision, report } = await until(() => bench.currentOf('right'), ({ report: r }) => r.rules.version.endsWith('changed for this cast'));
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
    const { page } = await bench.open('maker', `/bench/${bench.orderId()}/right`);
    await drawn(page, 1);
    const { cast, revision } = await bench.currentOf('right');
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
    await bench.workshop().administrator('POST', `/revisions/${revision.id}/approval`, { verdict: 'approved', fingerprint: revision.fingerprint }, { 'if-match': `"${cast.version}"` });
    await page.getByRole('dialog').getByRole('button', { name: 'Send back' }).click();
    await page.getByRole('dialog').getByText(/now is approved by First/).waitFor();
    expect(await page.getByLabel('Why').inputValue()).toBe('The toes are not closed.');
    await page.getByRole('dialog').getByRole('button', { name: 'Send back' }).click();
    await page.getByRole('group', { name: 'Right cast' }).getByText('sent back').waitFor();
  });

  it('gives one foot the whole scene while the other waits for its scan, and makes room when that is there', async () => {
    const { assistant } = bench.workshop();
    const { body: { id } } = await assistant('POST', '/orders', { content: { ...sampleOrder('2043'), orderNumber: '2043-again' } });
    const [left, right] = [await assistant('POST', `/orders/${id}/casts`, { side: 'left' }), await assistant('POST', `/orders/${id}/casts`, { side: 'right' })].map(({ body }) => body.id as string);
    await upload(assistant, left, sampleScan('2043-left.stl'), '2043-left.stl');
    await until(() => assistant('GET', `/casts/${left}`), ({ body }) => body.state !== 'in-work');
    const { page } = await bench.open('maker', `/bench/${id}`);
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
});

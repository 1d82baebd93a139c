import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import { bookIn, sampleScan, until } from '../support/api-cast.ts';
import { workshopService } from '../support/api-service.ts';
import { expectSound, keepPicture, openBrowser, signInAs } from '../support/browser.ts';
import { finerScan } from '../support/finer-scan.ts';

const workshop = workshopService({ JOB_MEMORY_MB: '6000' });
const browser = openBrowser();
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-large-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Most that the process which draws the page may ever have held, MB. */
const MOST_MB = 800;

describe('a scan of two million triangles', () => {
  it('is uploaded, made, and shown on the bench: coarse at once, then finely, turned smoothly, within the memory of a page', async () => {
    const path = join(folder, 'fine.stl');
    const bytes = finerScan(sampleScan('2044-left.stl'), 11);
    const triangles = new DataView(bytes.buffer).getUint32(80, true);
    expect(triangles).toBeGreaterThan(2_000_000);
    writeFileSync(path, bytes);
    const { maker, service } = workshop();
    const { orderId, castId } = await bookIn(maker, { content: { sides: ['left'] } });
    const watched = await browser.open();
    const { page } = watched;
    await signInAs(page, service.url, 'maker', `/arrivals/${orderId}`);
    watched.complaints.length = 0;
    await page.getByLabel('Choose scans').setInputFiles(path);
    await page.getByText(/Booked to the left cast/).waitFor({ timeout: 180_000 });
    // The page stays usable while it is worked on.
    await page.getByText(/looking for marks|mending|reading|standing|building|measuring|waits/).first().waitFor({ timeout: 120_000 });
    await page.locator('.verdict-head').waitFor({ timeout: 240_000 });
    await page.locator('.cast-view.is-open').waitFor({ timeout: 60_000 });
    await expectSound(watched);
    await keepPicture(page, 'large-verdict');

    const { currentRevisionId } = (await maker('GET', `/casts/${castId}`)).body;
    const report = (await maker('GET', `/revisions/${currentRevisionId}/files/report.json`)).body;
    expect(report.scan.triangles).toBe(triangles);
    const bodiesOf = async (name: string) => readPackedGlb(new Uint8Array(await (await maker.raw('GET', `/revisions/${currentRevisionId}/files/${name}`)).arrayBuffer()));
    for (const { mesh, extras } of await bodiesOf('view-light.glb')) {
      expect(mesh.triangles.length / 3).toBeLessThanOrEqual(40_000);
      expect(extras.triangles).toBeGreaterThan(1_900_000);
    }

    // The fine level is held back until the coarse one was seen.
    let letThrough = (): void => undefined;
    const held = new Promise<void>((resolve) => void (letThrough = resolve));
    await page.route('**/view-cleaned.glb', async (route) => {
      await held;
      await route.continue();
    });
    await page.goto(`${service.url}/bench/${orderId}`);
    const canvas = page.locator('.canvas-box > canvas');
    const drawn = async (): Promise<number> => Number((await canvas.getAttribute('data-triangles')) ?? 0);
    await page.getByText('left: coarse, full detail is on its way').waitFor();
    const coarse = await until(drawn, (count) => count > 0);
    expect(coarse).toBeGreaterThan(20_000);
    expect(coarse).toBeLessThanOrEqual(40_000);
    await keepPicture(page, 'large-coarse');
    letThrough();
    await page.getByText(/left: drawn with \d{3},\d{3} of [12],\d{3},\d{3} triangles, made with all/).waitFor({ timeout: 60_000 });
    const fine = await until(drawn, (count) => count > 40_000);
    expect(fine).toBeGreaterThan(400_000);
    expect(fine).toBeLessThanOrEqual(500_000);
    await page.locator('.mark-list').waitFor();
    await expectSound(watched);
    await keepPicture(page, 'large-fine');

    // While it is turned the coarse level is drawn; at rest the fine one again.
    const box = (await canvas.boundingBox()) as { x: number; y: number; width: number; height: number };
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2, { steps: 6 });
    const turning = await until(drawn, (count) => count <= 40_000);
    expect(turning).toBeLessThanOrEqual(40_000);
    await page.mouse.up();
    expect(await until(drawn, (count) => count > 40_000)).toBe(fine);
    await page.keyboard.press('3');
    await page.getByText('View: sole.').waitFor({ state: 'attached' });

    // Measured by the system: what the process that draws ever held.
    const processes = (await (await page.context().browser()?.newBrowserCDPSession())?.send('SystemInfo.getProcessInfo'))?.processInfo ?? [];
    const peaks = processes.filter(({ type }) => type === 'renderer').map(({ id }) => Number(/^VmHWM:\s+(\d+)/m.exec(readFileSync(`/proc/${id}/status`, 'utf8'))?.[1] ?? 0) / 1024);
    expect(peaks.length).toBeGreaterThan(0);
    expect(Math.max(...peaks)).toBeGreaterThan(50);
    expect(Math.max(...peaks)).toBeLessThan(MOST_MB);
    if (process.env.SCREENSHOTS !== undefined) process.stderr.write(`page at its largest: ${Math.round(Math.max(...peaks))} MB\n`);
  }, 600_000);
});

import { createRequire } from 'node:module';
import type readCode from 'jsqr';
import { describe, expect, it } from 'vitest';
import { drawSheet } from '@cast-to-last/sheet/measurement/draw-sheet';
import { sheetContentByHand } from '../../support/hand-made-sheet.js';
import { pdfPages } from '../../support/pdf-text.js';

/** The reader is a CommonJS module that is itself the function. */
const jsQR = createRequire(import.meta.url)('jsqr') as typeof readCode.default;

/** Pixels a point. */
const SCALE = 4;

/** The first page as a camera would see it: every black rectangle of the code on white. */
function pictureOfCode(operators: string): { readonly pixels: Uint8ClampedArray; readonly width: number; readonly height: number } {
  const rectangles = [...operators.matchAll(/^([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) re$/gm)].map((m) => m.slice(1).map(Number));
  // The modules are the small ones; bands and boxes of the page are larger.
  const modules = rectangles.filter(([, , width, height]) => height < 3 && width < 60);
  const [left, top] = [0, 1].map((k) => Math.min(...modules.map((r) => r[k])));
  const [right, bottom] = [0, 1].map((k) => Math.max(...modules.map((r) => r[k] + r[k + 2])));
  const around = 10;
  const [width, height] = [right - left, bottom - top].map((length) => Math.ceil((length + 2 * around) * SCALE));
  const pixels = new Uint8ClampedArray(4 * width * height).fill(255);
  for (const [x, y, w, h] of modules) {
    for (let r = Math.round((y - top + around) * SCALE); r < Math.round((y + h - top + around) * SCALE); r++) {
      for (let c = Math.round((x - left + around) * SCALE); c < Math.round((x + w - left + around) * SCALE); c++) pixels.fill(0, 4 * (r * width + c), 4 * (r * width + c) + 3);
    }
  }
  return { pixels, width, height };
}

async function read(record: string): Promise<string | undefined> {
  const [page] = pdfPages(await drawSheet(sheetContentByHand({ record })));
  const { pixels, width, height } = pictureOfCode(page.operators);
  return jsQR(pixels, width, height)?.data;
}

describe('the code on the sheet', () => {
  it.each([
    'cast-to-last:order/1042/left/0123456789abcdef',
    `cast-to-last:order/${encodeURIComponent('Ä'.repeat(80))}/right/0123456789abcdef`,
    'https://workshop.example/records/7?side=left&größe=42',
  ])('is read by another reader: %s', async (record) => {
    expect(await read(record)).toBe(record);
  });
});

import { describe, expect, it } from 'vitest';
import { drawSheet } from '@cast-to-last/sheet/measurement/draw-sheet';
import { outline, section, sheetContentByHand } from '../../support/hand-made-sheet.js';
import { sizeMm, strokedPaths } from '../../support/pdf-paths.js';
import type { PdfPath } from '../../support/pdf-paths.js';
import { pdfPages } from '../../support/pdf-text.js';

/** Of what a length shall be, the bar of the sheet: 0.2 %. */
const BAR = 0.002;
const expectLength = (measured: number, wanted: number): void => expect(Math.abs(measured - wanted)).toBeLessThan(BAR * wanted);

/** The last's outline: thin closed paths. */
const bodies = (paths: readonly PdfPath[]): PdfPath[] => paths.filter((p) => p.closed && Math.abs(p.lineWidth - 0.8) < 1e-6);

describe('drawings true to size', () => {
  it.each([
    ['a4', 262, 120, 1, 0], ['a4', 285, 150, 1, 0], ['a4', 288, 120, 2, 288], ['a4', 300, 140, 2, 300], ['a4', 262, 190, 2, 190], ['a4', 600, 200, 4, 600], ['letter', 262, 120, 1, 0], ['letter', 272, 120, 2, 272],
  ] as const)('on %s, a body of %d × %d mm is drawn 1 : %d and says so, and which length does not fit', async (paper, width, height, ratio, tooLong) => {
    const content = sheetContentByHand({ paper, outlines: [outline('profile-outer', width, height)], sections: [], map: [] });
    const page = pdfPages(await drawSheet(content))[1];
    const drawn = bodies(strokedPaths(page.operators));
    expect(drawn).toHaveLength(1);
    const [w, h] = sizeMm(drawn);
    expectLength(w, width / ratio);
    expectLength(h, height / ratio);
    expect(page.text).toContain(ratio === 1 ? '1 : 1  TRUE SIZE' : `1 : ${ratio}  reduced: ${tooLong} mm do not fit this paper`);
    for (let i = 0; i < drawn[0].points.length; i += 2) {
      expect(drawn[0].points[i]).toBeGreaterThan(14);
      expect(drawn[0].points[i]).toBeLessThan(page.width - 14);
      expect(drawn[0].points[i + 1]).toBeGreaterThan(14);
      expect(drawn[0].points[i + 1]).toBeLessThan(page.height - 60);
    }
  });

  it.each(['a4', 'letter'] as const)('every page of drawings on %s has a bar of 100 mm with a tick each 10 mm, whatever the scale', async (paper) => {
    const content = sheetContentByHand({ paper, outlines: [outline('profile-outer', 262, 150), outline('sole', 320, 110)] });
    const pages = pdfPages(await drawSheet(content)).filter((p) => p.text.includes('This bar measures 100 mm'));
    expect(pages).toHaveLength(3);
    for (const page of pages) {
      const level = strokedPaths(page.operators).filter((p) => p.points.length === 4 && p.points[1] === p.points[3]);
      const bar = level.filter((p) => Math.abs(sizeMm([p])[0] - 100) < 0.1);
      expect(bar).toHaveLength(1);
      expectLength(sizeMm(bar)[0], 100);
      const [left, y] = bar[0].points;
      const ticks = strokedPaths(page.operators).filter((p) => p.points.length === 4 && p.points[0] === p.points[2] && p.points[1] === y).map((p) => ((p.points[0] - left) / 72) * 25.4);
      expect(ticks).toHaveLength(11);
      ticks.forEach((tick, i) => expect(Math.abs(tick - 10 * i)).toBeLessThan(0.01));
    }
  });

  it('the ruler counts millimetres of the cast at the scale of the drawing', async () => {
    for (const [width, ratio] of [[262, 1], [310, 2]]) {
      const page = pdfPages(await drawSheet(sheetContentByHand({ outlines: [outline('profile-outer', width, 110)], sections: [], map: [] })))[1];
      const level = strokedPaths(page.operators).filter((p) => p.points.length === 4 && p.points[1] === p.points[3]);
      const ruler = level.find((p) => Math.abs(sizeMm([p])[0] - Math.floor(width / 10) * (10 / ratio)) < 0.05);
      expect(ruler).toBeDefined();
      expect(page.text).toContain(' 0 50 100 150 200 250 ');
    }
  });

  it('sections stand on one page where they fit, each true to size', async () => {
    const content = sheetContentByHand({ outlines: [], map: [] });
    const page = pdfPages(await drawSheet(content))[1];
    expect(page.text).toContain('1 : 1  TRUE SIZE');
    const sizes = bodies(strokedPaths(page.operators)).map((p) => sizeMm([p]));
    const wanted = [[105, 60], [85, 60], [80, 70], [70, 125]];
    expect(sizes).toHaveLength(4);
    for (const [w, h] of wanted) expect(sizes.some((s) => Math.abs(s[0] - w) < BAR * w && Math.abs(s[1] - h) < BAR * h), `${w} × ${h}`).toBe(true);
    for (const words of ['ball girth', 'cleaned cast 330.0 ± 0.4 mm 12.99 in', 'last 333.0 ± 0.3 mm 13.11 in', 'inside', 'outside']) expect(page.text.replaceAll(/ +/g, ' ')).toContain(words);
  });

  it('the words of a section stand in its middle where no line passes there, else over it', async () => {
    const round = section('A', 'ball girth', 105, 60);
    // The same with a high arch: the line of the sole rises into the middle.
    const points = [0, 0, 30, 0, 52, 34, 75, 0, 105, 0, 105, 60, 0, 60];
    const arched = { ...round, last: [{ points: Float64Array.from(points), closed: true }] };
    for (const [drawn, inside] of [[round, true], [arched, false]] as const) {
      const page = pdfPages(await drawSheet(sheetContentByHand({ outlines: [], map: [], sections: [drawn] })))[1];
      // Paths count from the page's top, text from its foot.
      const top = Math.min(...bodies(strokedPaths(page.operators)).flatMap((p) => p.points.filter((_, i) => i % 2 === 1)));
      const girths = page.pieces.filter(({ text }) => /33[03]\.0/.test(text));
      expect(girths).toHaveLength(2);
      for (const { y } of girths) expect(page.height - y > top).toBe(inside);
    }
  });

  it('a high section after a page that lies on its side is true to size all the same', async () => {
    const content = sheetContentByHand({ map: [], sections: [section('D', 'short heel girth', 80, 180)] });
    const page = pdfPages(await drawSheet(content)).find((p) => p.text.includes('Sections'));
    expect(page?.text).toContain('TRUE SIZE');
    expectLength(sizeMm(bodies(strokedPaths(page?.operators ?? '')))[1], 180);
  });

  it('sections that do not fit one page go on to the next, and one that fits no page is reduced', async () => {
    const high = ['A', 'B', 'C', 'D'].map((letter) => section(letter, `girth ${letter}`, 120, 110));
    const pages = pdfPages(await drawSheet(sheetContentByHand({ outlines: [], map: [], sections: high }))).filter((p) => p.text.includes('Sections'));
    expect(pages.length).toBeGreaterThan(1);
    expect(pages.flatMap((p) => bodies(strokedPaths(p.operators)))).toHaveLength(4);
    const [wide] = pdfPages(await drawSheet(sheetContentByHand({ outlines: [], map: [], sections: [section('A', 'ball girth', 240, 80)] }))).filter((p) => p.text.includes('Sections'));
    expect(wide.text).toContain('1 : 2  reduced: 240 mm do not fit this paper');
    expectLength(sizeMm(bodies(strokedPaths(wide.operators)))[0], 120);
  });
});

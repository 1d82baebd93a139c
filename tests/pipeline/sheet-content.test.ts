import { describe, expect, it } from 'vitest';
import type { Measurement } from '@cast-to-last/foot/measures';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { sheetContent } from '@cast-to-last/pipeline/sheet-content';
import { drawCastSheet } from '@cast-to-last/pipeline/stages/draw-sheet';
import type { SheetDrawing, SheetLine } from '@cast-to-last/sheet/content';
import { handMadeOutcome } from '../support/hand-made-outcome.js';
import { icosphere } from '../support/meshes.js';
import { pdfPages } from '../support/pdf-text.js';

const header = { orderNumber: '1042', date: '2026-03-17', fileName: 'order-1042-left.stl', programVersion: '0.1.0' };

/** An egg the size of a foot, 260 × 100 × 80 mm, standing on z = 0 with its rear at x = 0. */
function egg(): Mesh {
  const { positions, triangles } = icosphere(1, 5);
  return { positions: positions.map((c, i) => [130 * c + 130, 50 * c, 40 * c + 40][i % 3]), triangles };
}

/** The circle round the egg's middle, as a tape in the plane x = 130. */
const tape = Float64Array.from({ length: 3 * 90 }, (_, i) => {
  const angle = (Math.floor(i / 3) / 90) * 2 * Math.PI;
  return [130, 50 * Math.cos(angle), 40 + 40 * Math.sin(angle)][i % 3];
});

function eggOutcome(side: Side): CastOutcome {
  const outcome = handMadeOutcome();
  const mesh = egg();
  const girth: Measurement = { id: 'ball-girth', label: 'ball girth', value: 283, unit: 'mm', uncertainty: 0.4, on: 'cast', onFilled: 0.126, tape };
  const [first] = outcome.inspected.marks;
  const at = (id: string, x: number, y: number, z: number) => ({ ...first, id, centre: [x - 1, y, z] as const });
  return {
    ...outcome,
    aligned: { ...outcome.aligned, side },
    // The outcome's settle moves by 1 mm along x.
    inspected: { ...outcome.inspected, marks: [at('plusY', 130, 49, 40), at('minusY', 130, -49, 40), at('below', 130, 0, 1)] },
    measured: { ...outcome.measured, mesh, measurements: [girth] },
  };
}

const drawingsOf = (side: Side): readonly SheetDrawing[] => sheetContent(eggOutcome(side), header).drawings;
const named = (drawings: readonly SheetDrawing[], title: RegExp): SheetDrawing => drawings.find((d) => title.test(d.title)) as SheetDrawing;

function size(lines: readonly SheetLine[]): [number, number] {
  const points = lines.flatMap((l) => [...l.points]);
  const along = (k: number): number[] => points.filter((_, i) => i % 2 === k);
  return [Math.max(...along(0)) - Math.min(...along(0)), Math.max(...along(1)) - Math.min(...along(1))];
}

describe('the drawings of a sheet', () => {
  it('are true in size: length by breadth from below, length by height from the sides, breadth by height from behind', () => {
    const drawings = drawingsOf('right');
    const sizes = [/below/, /medial/, /lateral/, /behind/].map((title) => size(named(drawings, title).outline));
    const expected = [[260, 100], [260, 80], [260, 80], [100, 80]];
    sizes.forEach(([w, h], i) => {
      expect(Math.abs(w - expected[i][0])).toBeLessThan(1);
      expect(Math.abs(h - expected[i][1])).toBeLessThan(1);
    });
  });

  it.each([['right', 'plusY', 'minusY'], ['left', 'minusY', 'plusY']] as const)(
    'of a %s foot show %s on the inside and %s on the outside', (side, inside, outside) => {
      const drawings = drawingsOf(side);
      const ids = (title: RegExp): string[] => named(drawings, title).marks.map((m) => m.id);
      expect(ids(/medial/)).toContain(inside);
      expect(ids(/medial/)).not.toContain(outside);
      expect(ids(/lateral/)).toContain(outside);
      expect(ids(/lateral/)).not.toContain(inside);
      expect(ids(/below/)).toContain('below');
    },
  );

  it('show of a tape the half that is seen, and no ball tape from behind', () => {
    const drawings = drawingsOf('right');
    const medial = named(drawings, /medial/).tapes;
    expect(medial.map((t) => t.letter)).toEqual(['A']);
    const [width, height] = size(medial[0].lines);
    expect(width).toBeLessThan(0.1);
    expect(Math.abs(height - 80)).toBeLessThan(6);
    expect(named(drawings, /behind/).tapes).toEqual([]);
  });

  it('hold contours of depth inside the outline', () => {
    const { contours } = named(drawingsOf('right'), /below/);
    expect(contours).toHaveLength(3);
    const [width, height] = size(contours);
    expect(width).toBeLessThan(260);
    expect(height).toBeLessThan(100);
  });
});

describe('sheetContent', () => {
  it('puts cast and last side by side, absent ones with their reason', () => {
    const { measures } = sheetContent(handMadeOutcome(), header);
    expect(measures).toHaveLength(16);
    const ankle = measures.find((m) => m.label === 'ankle girth');
    expect(ankle).toMatchObject({ cast: null, last: null, remark: 'The cast ends 12 mm below the place of this tape.' });
    const length = measures.find((m) => m.label === 'foot length');
    expect(length?.cast?.value).toBe(100);
    expect(length?.last?.value).toBe(100);
  });

  it('says how much of a measure lies on surface that repair filled', () => {
    expect(sheetContent(eggOutcome('left'), header).measures[0].remark).toBe('13 % of it on surface that repair filled.');
  });

  it('names rules, convention, verdict and cautions, and leaves out what the order leaves out', () => {
    const content = sheetContent(handMadeOutcome(), header);
    expect(content.particulars.map((p) => p.label)).not.toContain('Remarks');
    expect(content.particulars).toContainEqual({ label: 'Rules', text: 'house rules, version 1' });
    expect(content.sizeConvention).toContain('ISO/TS 19407');
    expect(content.castCheck.verdict).toBe('The cast is usable with care.');
    expect(content.cautions.join(' ')).toMatch(/no medical advice.*Diabetes.*dust/s);
  });

  it('becomes a sheet of which every letter can be selected', async () => {
    const pdf = await drawCastSheet(eggOutcome('left'), { ...header, remarks: 'Fit the left first.', customerNumber: 'K-77' });
    const text = pdfPages(pdf).map((p) => p.text).join('\n');
    for (const words of ['Order 1042', 'LEFT', 'Fit the left first.', 'K-77', 'ball girth', '283.0', 'Inside (medial)', 'plusY']) expect(text).toContain(words);
    expect(text).not.toContain('\uFFFD');
    expect(pdf.length).toBeLessThan(1_000_000);
  });
});

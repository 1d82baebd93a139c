import type { Side } from '@cast-to-last/foot/side';
import { middleOfTop } from './flat-top.js';
import type { FlatTop } from './flat-top.js';
import { findRoom } from './free-space.js';
import type { FreeSpace } from './free-space.js';
import { CAPITAL, hasStrokes, strokesOf } from './stroke-letters.js';
import type { LineOfStrokes } from './stroke-letters.js';
import { strokeOutlines } from './stroke-outlines.js';

export const LABEL_DEFAULTS = {
  /** Height of the letters over all, mm: smaller ones are not cut, larger ones not needed. */
  least: 4,
  most: 12,
  /** Width of a stroke: at least so many mm, else this share of the height. */
  leastStroke: 0.8,
  stroke: 0.13,
  /** From the foot of a line to the head of the next, as a share of the height. */
  between: 0.4,
  /** How much taller letters have to come out for the text to be turned, or its number broken. */
  worthIt: 1.25,
} as const;

/** A label that has found its place. */
export interface PlacedLabel {
  readonly lines: readonly string[];
  /** Outlines of the strokes on the plane, u and v, turning left; they overlap. */
  readonly outlines: readonly Float64Array[];
  /** Height of the letters over all and width of their strokes, mm. */
  readonly height: number;
  readonly stroke: number;
}

/** The characters of a text that have no strokes and become a crossed box, each once. */
export const unknownCharacters = (text: string): string[] => [...new Set([...text].filter((character) => !hasStrokes(character)))];

/**
 * Order number and side in the largest letters for which the free space has room: in one line, or the side below, or the number
 * broken after a sign; along the foot, to be read with the toes to the right, or across it, with the toes up.
 * Null where not even the smallest letters have room.
 */
export function placeLabel(top: FlatTop, space: FreeSpace, side: Side, orderNumber: string | null): PlacedLabel | null {
  const middle = middleOfTop(top);
  let best: Fit | null = null;
  for (const candidate of layouts(orderNumber, side === 'left' ? 'L' : 'R')) {
    for (const turned of [false, true]) {
      const least: number = best === null ? LABEL_DEFAULTS.least : Math.ceil(10 * best.height * LABEL_DEFAULTS.worthIt) / 10;
      best = largest(space, middle, { lines: candidate, turned }, least) ?? best;
    }
  }
  return best === null ? null : drawn(best);
}

/** The ways to set the text, the preferred first. */
function layouts(orderNumber: string | null, letter: string): string[][] {
  if (orderNumber === null || orderNumber.trim() === '') return [[letter]];
  const order = orderNumber.trim();
  const out = [[`${order} ${letter}`], [order, letter]];
  const characters = [...order];
  for (let i = 1; i < characters.length; i++) {
    if (!'-/ ._:'.includes(characters[i - 1])) continue;
    const head = characters.slice(0, i).join('').trimEnd();
    const tail = characters.slice(i).join('').trimStart();
    out.push([head, `${tail} ${letter}`], [head, tail, letter]);
  }
  return out;
}

interface Fit { readonly lines: readonly string[]; readonly height: number; readonly turned: boolean; readonly middle: readonly [number, number] }

/** The largest letters, to a tenth of a millimetre, in which the lines have room; null where those of `least` mm have none. */
function largest(space: FreeSpace, to: readonly [number, number], { lines, turned }: Pick<Fit, 'lines' | 'turned'>, least: number): Fit | null {
  if (least > LABEL_DEFAULTS.most) return null;
  const set = lines.map(strokesOf);
  const tryAt = (height: number): [number, number] | null => {
    const { width, height: high } = blockSize(set, height);
    return turned ? findRoom(space, high, width, to) : findRoom(space, width, high, to);
  };
  let low = Math.round(10 * least);
  let high = 10 * LABEL_DEFAULTS.most;
  let middle = tryAt(low / 10);
  if (middle === null) return null;
  while (low < high) {
    const height = Math.ceil((low + high) / 2);
    const found = tryAt(height / 10);
    if (found === null) high = height - 1;
    else [low, middle] = [height, found];
  }
  return { lines, height: low / 10, turned, middle };
}

const strokeWidth = (height: number): number => Math.max(LABEL_DEFAULTS.leastStroke, LABEL_DEFAULTS.stroke * height);

const lineWidth = ({ width, gaps }: LineOfStrokes, height: number): number => {
  const stroke = strokeWidth(height);
  return (width * (height - stroke)) / CAPITAL + gaps * stroke + stroke;
};

function blockSize(set: readonly LineOfStrokes[], height: number): { readonly width: number; readonly height: number } {
  // What hangs below the base line or stands above a capital is at most 0.3 of the grid's 6.
  const over = 2 * 0.05 * height;
  return { width: Math.max(...set.map((line) => lineWidth(line, height))), height: set.length * height + (set.length - 1) * LABEL_DEFAULTS.between * height + over };
}

function drawn({ lines, height, turned, middle }: Fit): PlacedLabel {
  const stroke = strokeWidth(height);
  const scale = (height - stroke) / CAPITAL;
  const pitch = (1 + LABEL_DEFAULTS.between) * height;
  const outlines: Float64Array[] = [];
  lines.forEach((text, row) => {
    const line = strokesOf(text);
    const left = (-lineWidth(line, height) + stroke) / 2;
    const base = ((lines.length - 1) / 2 - row) * pitch - (height - stroke) / 2;
    for (const { points, gapsBefore } of line.strokes) {
      const placed = points.map((c, i) => (i % 2 === 0 ? left + c * scale + gapsBefore * stroke : base + c * scale));
      for (let i = 0; i < placed.length; i += 2) {
        const x = placed[i];
        const y = placed[i + 1];
        // Turned, the text runs towards −v and its letters stand towards the toes.
        placed.set(turned ? [middle[0] + y, middle[1] - x] : [middle[0] + x, middle[1] + y], i);
      }
      outlines.push(...strokeOutlines(placed, stroke));
    }
  });
  return { lines, outlines, height, stroke };
}

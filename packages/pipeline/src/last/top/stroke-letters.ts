/**
 * Letters of single strokes of even width, to be cut by a round tool: the middle lines on a grid in which a capital is 6 high.
 * Each is its width and its strokes, points as x,y, strokes apart by spaces; a stroke of one point is a dot.
 */
const STROKES: Readonly<Record<string, readonly [number, string]>> = {
  '0': [3, '1,0;2,0;3,1.2;3,4.8;2,6;1,6;0,4.8;0,1.2;1,0'],
  '1': [2.4, '0.1,4.6;1.3,6;1.3,0 0.2,0;2.4,0'],
  '2': [3.2, '0,4.7;0.4,5.6;1.2,6;2.2,6;2.9,5.5;3.1,4.6;2.8,3.7;0,0;3.2,0'],
  '3': [3.2, '0,6;3.1,6;1.5,3.6;2.4,3.4;3.1,2.7;3.2,1.7;2.8,0.6;2,0;1,0;0,0.8'],
  '4': [3.6, '2.7,0;2.7,6;0,1.8;3.6,1.8'],
  '5': [3.2, '3,6;0.4,6;0.2,3.3;1.1,3.7;2.1,3.6;2.9,3;3.2,2;2.9,0.8;2.1,0;1,0;0,0.7'],
  '6': [3.2, '2.7,6;1.5,5.2;0.5,3.8;0,2.1;0.3,0.8;1.1,0;2.1,0;2.9,0.8;3.2,1.9;2.9,3;2.1,3.7;1.2,3.7;0.2,2.6'],
  '7': [3.2, '0,6;3.2,6;1.1,0'],
  '8': [3.2, '1.6,3.2;0.7,3.7;0.3,4.6;0.6,5.5;1.2,6;2,6;2.6,5.5;2.9,4.6;2.5,3.7;1.6,3.2;0.5,2.6;0,1.6;0.3,0.6;1,0;2.2,0;2.9,0.6;3.2,1.6;2.7,2.6;1.6,3.2'],
  '9': [3.2, '0.5,0;1.7,0.8;2.7,2.2;3.2,3.9;2.9,5.2;2.1,6;1.1,6;0.3,5.2;0,4.1;0.3,3;1.1,2.3;2,2.3;3,3.4'],
  A: [4, '0,0;2,6;4,0 0.6,1.7;3.4,1.7'],
  B: [3.5, '0,0;0,6;2.1,6;2.9,5.5;3.1,4.6;2.8,3.7;2,3.2;0,3.2 2,3.2;3.1,2.6;3.5,1.6;3.1,0.5;2.2,0;0,0'],
  C: [3.6, '3.6,4.8;2.8,5.7;1.8,6;0.8,5.5;0.1,4.4;0,3;0.1,1.6;0.8,0.5;1.8,0;2.8,0.3;3.6,1.2'],
  D: [3.6, '0,0;0,6;1.7,6;2.9,5.4;3.5,4.3;3.6,3;3.5,1.7;2.9,0.6;1.7,0;0,0'],
  E: [3.2, '3.2,6;0,6;0,0;3.2,0 0,3.1;2.6,3.1'],
  F: [3.2, '3.2,6;0,6;0,0 0,3;2.6,3'],
  G: [3.8, '3.6,4.8;2.8,5.7;1.8,6;0.8,5.5;0.1,4.4;0,3;0.1,1.6;0.8,0.5;1.8,0;2.9,0.2;3.8,1;3.8,2.7;2.2,2.7'],
  H: [3.6, '0,0;0,6 3.6,0;3.6,6 0,3.1;3.6,3.1'],
  I: [2, '1,0;1,6 0,6;2,6 0,0;2,0'],
  J: [3, '1,6;3,6;3,1.6;2.6,0.5;1.6,0;0.7,0.3;0,1.3'],
  K: [3.6, '0,0;0,6 3.5,6;0,2.4 1.2,3.6;3.6,0'],
  L: [3.1, '0,6;0,0;3.1,0'],
  M: [4.4, '0,0;0,6;2.2,2;4.4,6;4.4,0'],
  N: [3.6, '0,0;0,6;3.6,0;3.6,6'],
  O: [4.2, '1.4,0;2.8,0;3.8,0.9;4.2,2.2;4.2,3.8;3.8,5.1;2.8,6;1.4,6;0.4,5.1;0,3.8;0,2.2;0.4,0.9;1.4,0'],
  P: [3.4, '0,0;0,6;2.2,6;3.1,5.4;3.4,4.4;3.1,3.3;2.2,2.7;0,2.7'],
  Q: [4.2, '1.4,0;2.8,0;3.8,0.9;4.2,2.2;4.2,3.8;3.8,5.1;2.8,6;1.4,6;0.4,5.1;0,3.8;0,2.2;0.4,0.9;1.4,0 2.6,1.6;4.2,-0.2'],
  R: [3.5, '0,0;0,6;2.2,6;3.1,5.4;3.4,4.4;3.1,3.3;2.2,2.8;0,2.8 1.8,2.8;3.5,0'],
  S: [3.4, '3.3,4.9;2.7,5.7;1.7,6;0.7,5.6;0.2,4.7;0.5,3.7;1.5,3.2;2.4,2.7;3.2,2.1;3.4,1.3;2.8,0.4;1.7,0;0.7,0.3;0,1.2'],
  T: [3.8, '0,6;3.8,6 1.9,6;1.9,0'],
  U: [3.6, '0,6;0,1.8;0.5,0.6;1.3,0;2.3,0;3.1,0.6;3.6,1.8;3.6,6'],
  V: [4, '0,6;2,0;4,6'],
  W: [5, '0,6;1.2,0;2.5,4.4;3.8,0;5,6'],
  X: [3.8, '0,0;3.8,6 0,6;3.8,0'],
  Y: [3.8, '0,6;1.9,3;3.8,6 1.9,3;1.9,0'],
  Z: [3.6, '0,6;3.6,6;0,0;3.6,0'],
  '-': [2.2, '0,2.9;2.2,2.9'],
  '/': [2.6, '0,-0.2;2.6,6.2'],
  '+': [2.8, '0,2.9;2.8,2.9 1.4,1.5;1.4,4.3'],
  '#': [5.1, '1,0;1.4,6 3.7,0;4.1,6 0,1.6;5.1,1.6 0,4.4;5.1,4.4'],
  '.': [0.4, '0.2,0'],
  ',': [0.6, '0.5,0.6;0.1,-0.3'],
  ':': [0.4, '0.2,0.8 0.2,3.6'],
  '_': [3, '0,0;3,0'],
  '(': [1.2, '1.2,6.2;0.3,4.9;0,3;0.3,1.1;1.2,-0.2'],
  ')': [1.2, '0,6.2;0.9,4.9;1.2,3;0.9,1.1;0,-0.2'],
  ' ': [1.6, ''],
};

/** What stands for a character without strokes: a crossed box. */
const UNKNOWN: readonly [number, string] = [3.2, '0,0;3.2,0;3.2,6;0,6;0,0;3.2,6'];

/** Height of a capital's middle lines. */
export const CAPITAL = 6;

/** Clear space between two letters, beside the width of the stroke. */
const APART = 1.1;

export interface LineOfStrokes {
  /** Width of the middle lines less what `apart` takes. */
  readonly width: number;
  /** Gaps between letters, each of which the width of a stroke widens. */
  readonly gaps: number;
  /** x, y pairs of each stroke; `gapsBefore` it. */
  readonly strokes: readonly { readonly points: Float64Array; readonly gapsBefore: number }[];
}

/** Whether a character has strokes; small letters are cut as capitals. */
export const hasStrokes = (character: string): boolean => STROKES[character.toUpperCase()] !== undefined;

/** A line of text as strokes from x = 0 and the base line y = 0; nothing hangs below it or stands above a capital by more than 0.3. A character without strokes becomes a crossed box. */
export function strokesOf(text: string): LineOfStrokes {
  const strokes: { points: Float64Array; gapsBefore: number }[] = [];
  let x = 0;
  [...text].forEach((character, i) => {
    if (i > 0) x += APART;
    const [width, lines] = STROKES[character.toUpperCase()] ?? UNKNOWN;
    for (const line of lines.split(' ').filter((l) => l !== '')) {
      const points = Float64Array.from(line.split(/[;,]/), Number);
      for (let k = 0; k < points.length; k += 2) points[k] += x;
      strokes.push({ points, gapsBefore: i });
    }
    x += width;
  });
  return { width: x, gaps: Math.max(0, [...text].length - 1), strokes };
}

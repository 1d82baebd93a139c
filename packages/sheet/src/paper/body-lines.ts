import type { SheetLine } from '../measurement/content.js';
import { INK, MARK } from './flow.js';
import type { Flow } from './flow.js';
import { trace } from './placed.js';
import type { Placed } from './placed.js';

/** Of the cast: broad and light, so that a thin black line on it is still seen, in grey print too. */
export const CAST_LINE = { width: 2.6, colour: '#b9c4cd' } as const;
export const LAST_LINE = { width: 0.8, colour: INK } as const;
/** Of the feather line: dashes and dots, so that it is told from a tape without its colour. */
export const FEATHER_LINE = { width: 1, colour: MARK, dashes: [7, 2.2, 1.2, 2.2] } as const;

/** The cast as a broad light line, the last as a thin dark one over it. */
export function drawBodies(flow: Flow, placed: Placed, cast: readonly SheetLine[], last: readonly SheetLine[], slim = 1): void {
  for (const [lines, { width, colour }] of [[cast, CAST_LINE], [last, LAST_LINE]] as const) {
    if (lines.length === 0) continue;
    for (const line of lines) trace(flow, placed, line);
    flow.pdf.lineWidth(width * slim).lineJoin('round').strokeColor(colour).stroke();
  }
}

/** The feather line over what is drawn of the bodies. */
export function drawFeather(flow: Flow, placed: Placed, lines: readonly SheetLine[]): void {
  if (lines.length === 0) return;
  for (const line of lines) trace(flow, placed, line);
  const { width, colour, dashes } = FEATHER_LINE;
  dashed(flow, dashes);
  flow.pdf.lineWidth(width).strokeColor(colour).stroke().undash();
}

/** Sets lengths of dash and gap in turn for what is stroked next; no lengths for a whole line. */
export function dashed(flow: Flow, lengths: readonly number[]): void {
  // The library takes lists, too, which its types do not say.
  if (lengths.length > 0) flow.pdf.dash([...lengths] as unknown as number, {});
}

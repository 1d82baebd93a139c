import type { SheetLine } from './content.js';
import { INK } from './flow.js';
import type { Flow } from './flow.js';
import { trace } from './placed.js';
import type { Placed } from './placed.js';

/** Of the cast: broad and light, so that a thin black line on it is still seen, in grey print too. */
export const CAST_LINE = { width: 2.6, colour: '#b9c4cd' } as const;
export const LAST_LINE = { width: 0.8, colour: INK } as const;

/** The cast as a broad light line, the last as a thin dark one over it. */
export function drawBodies(flow: Flow, placed: Placed, cast: readonly SheetLine[], last: readonly SheetLine[], slim = 1): void {
  for (const [lines, { width, colour }] of [[cast, CAST_LINE], [last, LAST_LINE]] as const) {
    if (lines.length === 0) continue;
    for (const line of lines) trace(flow, placed, line);
    flow.pdf.lineWidth(width * slim).lineJoin('round').strokeColor(colour).stroke();
  }
}

import type { SheetContent } from './content.js';
import { heading, paragraph } from './flow.js';
import type { Flow } from './flow.js';
import { table } from './table.js';

/** A signed number with a true minus, so that the sign is read at arm's length. */
const signed = (value: number): string => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(1)}`;

export function drawMarks(flow: Flow, content: SheetContent): void {
  heading(flow, `Marks (${content.marks.length})`, 40);
  if (content.marks.length === 0) {
    paragraph(flow, 'No marks were found on this cast.');
    return;
  }
  table(
    flow,
    [
      { title: 'Mark', share: 8 },
      { title: 'Kind', share: 8 },
      { title: 'Place x, y, z (mm)', share: 18 },
      { title: 'Depth (mm)', share: 12, align: 'right' },
      { title: 'Size (mm)', share: 12, align: 'right' },
      { title: 'Decision', share: 13 },
      { title: 'Why', share: 40 },
    ],
    content.marks.map((m) => [
      m.id, m.kind, m.centre.map((c) => c.toFixed(0).replace('-', '−')).join(', '), signed(m.depth),
      `${m.length.toFixed(0)} × ${m.width.toFixed(0)}`, m.decision, m.why,
    ]),
    { size: 8 },
  );
}

import { BOLD, SOFT } from '../paper/flow.js';
import { drawChangesLegend, openLegend } from './legend.js';
import { drawMapViews } from './map-views.js';
import { drawBadge } from './mark-badges.js';
import { orderAndSide } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';

/** Marks and changes on four views under one another, the legend beside them. */
export function drawMap(page: SheetPage): void {
  const { flow, content, words, figures } = page;
  const at = drawMapViews(page, content.map, `${words.map}   ${orderAndSide(page)}`);
  if (at === null) return;
  const legend = openLegend(flow, at.x, at.y);
  drawChangesLegend(flow, figures, legend, content.map, {
    title: words.mapChanges, out: words.added, in: words.taken, largest: words.largest, none: words.noMapChanges, lines: [words.castLine, words.lastLine],
  });
  legend.space(8);
  legend.say(words.mapMarks, { size: 9, font: BOLD });
  for (const decision of ['smooth', 'keep', 'ask'] as const) {
    legend.row((middle) => drawBadge(flow, decision, String(content.marks.filter((m) => m.decision === decision).length), legend.x + 12, middle), words.decisions[decision]);
  }
  legend.say(content.marks.length === 0 ? words.noMarks : words.mapNote, { size: 8, colour: SOFT });
  legend.say(words.contourNote, { size: 8, colour: SOFT });
}

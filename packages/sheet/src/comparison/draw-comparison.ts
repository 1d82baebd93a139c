import type { ComparisonContent } from './comparison-content.js';
import { drawComparisonPage } from './comparison-page.js';
import { figuresWith } from '../paper/figures.js';
import { BOLD, SOFT, closeFlow, openFlow, printable } from '../paper/flow.js';
import { drawChangesLegend, openLegend } from '../measurement/legend.js';
import { drawMapViews } from '../measurement/map-views.js';
import { drawFooters } from '../paper/sheet-page.js';
import type { Drawing } from '../paper/sheet-page.js';
import { wordsOf } from '../words/words-of.js';

/** What the file says of when it was made: the comparison reads no clock. */
const CREATED = new Date('2000-01-01T00:00:00Z');

/**
 * The comparison of two casts or lasts as a PDF: figures on the first page, the map of how far one stands off the other on
 * the second; long lists take more. The same content gives the same bytes.
 */
export function drawComparison(content: ComparisonContent): Promise<Uint8Array> {
  const words = wordsOf(content.language);
  const about = `${words.comparison.title}   ${content.subject}`;
  const flow = openFlow(content.paper, printable(about), CREATED, content.language);
  const drawing: Drawing = { flow, words, figures: figuresWith(words.decimal) };
  drawComparisonPage(drawing, content);
  drawComparisonMap(drawing, content);
  drawFooters(drawing, about);
  return closeFlow(flow);
}

function drawComparisonMap(drawing: Drawing, { map, names, upTo, subject, parts }: ComparisonContent): void {
  const { flow, words, figures } = drawing;
  const { comparison } = words;
  const at = drawMapViews(drawing, map, `${comparison.map}   ${subject}`);
  if (at === null) return;
  const [first, second] = names;
  const legend = openLegend(flow, at.x, at.y);
  drawChangesLegend(flow, figures, legend, map, {
    title: capital(comparison.mapTitle(first, second)), out: (from) => comparison.outside(from), in: (from) => comparison.within(from), largest: words.largest,
    none: comparison.alike, lines: [second, first],
  });
  legend.space(8);
  legend.say(comparison.mapNote(`${figures.plain(upTo, 0)} mm`), { size: 8, colour: SOFT });
  legend.say(words.contourNote, { size: 8, colour: SOFT });
  if (parts.length === 0) return;
  legend.space(8);
  legend.say(comparison.standsOff, { size: 9, font: BOLD });
  legend.cells(['', comparison.median, comparison.most], { size: 7.5, colour: SOFT });
  for (const p of parts) legend.cells([p.label, figures.signed(p.median, 2), figures.plain(p.p95, 2)], { size: 8.5 });
  legend.say(comparison.partsNote, { size: 8, colour: SOFT });
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

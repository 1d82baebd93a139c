import type { SheetContent } from './content.js';
import { drawDetails } from './details.js';
import { figuresWith } from '../paper/figures.js';
import { closeFlow, openFlow, printable } from '../paper/flow.js';
import { drawGlance } from './glance.js';
import { drawMap } from './map-page.js';
import { drawSections } from './sections.js';
import { drawFooters, orderAndSide } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { drawOutlines } from './true-scale.js';
import { wordsOf } from '../words/words-of.js';

/**
 * The measurement sheet as a PDF: the job at a glance, drawings true to size, the map of marks and changes, and the lists.
 * The same content gives the same bytes.
 */
export function drawSheet(content: SheetContent): Promise<Uint8Array> {
  const words = wordsOf(content.language);
  const created = new Date(`${content.date ?? '2000-01-01'}T00:00:00Z`);
  const flow = openFlow(content.paper, `${words.title}, ${words.order} ${printable(content.orderNumber)}, ${words.sides[content.side]}`, created, content.language);
  const page: SheetPage = { flow, content, words, figures: figuresWith(words.decimal) };
  drawGlance(page);
  drawOutlines(page);
  drawSections(page);
  drawMap(page);
  drawDetails(page);
  drawFooters(page, `${content.date ?? ''}   ${orderAndSide(page)}`);
  return closeFlow(flow);
}

import { MARGIN, SOFT, closeFlow, openFlow, printable } from '../paper/flow.js';
import type { Flow } from '../paper/flow.js';
import { noteAlso, noteCautions, noteHeader, noteParagraphs, noteRow } from './note-blocks.js';
import type { Block } from './note-blocks.js';
import { MOST_PICTURED } from './note-content.js';
import type { NoteContent } from './note-content.js';

/** Heights that a picture may have, and the sizes of the text, from what is wanted to what can still be read; points. */
const PICTURE_HEIGHTS = [172, 152, 134, 120, 108, 98, 90, 82];
const SIZES = [9.5, 9, 8.5, 8];

interface Plan {
  readonly pictured: number;
  readonly size: number;
  /** Whether the list says what to do about each finding. */
  readonly full: boolean;
  readonly pictureHeight: number;
}

/** Every way of laying the note out, the best first. */
function* plans(findings: number): Generator<Plan> {
  for (let pictured = Math.min(MOST_PICTURED, findings); pictured >= Math.min(1, findings); pictured--) {
    for (const full of [true, false]) for (const size of SIZES) for (const pictureHeight of PICTURE_HEIGHTS) yield { pictured, size, full, pictureHeight };
  }
}

/**
 * The recast note as a PDF of one page; the same content gives the same bytes. Throws RangeError where not even one
 * picture and the smallest text fit, which only texts much longer than the note's own can bring about.
 */
export function drawNote(content: NoteContent): Promise<Uint8Array> {
  const created = new Date(`${content.date ?? '2000-01-01'}T00:00:00Z`);
  const flow = openFlow(content.paper, `Note on the cast, order ${printable(content.orderNumber)}, ${content.side}`, created);
  const room = flow.pdf.page.height - 2 * MARGIN;
  for (const plan of plans(content.findings.length)) {
    const blocks = layOut(flow, content, plan);
    if (blocks.reduce((sum, b) => sum + b.height, 0) > room) continue;
    let y = MARGIN;
    for (const block of blocks) {
      block.draw(y);
      y += block.height;
    }
    return closeFlow(flow);
  }
  throw new RangeError('a recast note that does not fit on its page');
}

function layOut(flow: Flow, content: NoteContent, { pictured, size, full, pictureHeight }: Plan): Block[] {
  const { findings, opening, closing, sources } = content;
  return [
    noteHeader(flow, content),
    noteParagraphs(flow, opening, { size }),
    space(5),
    ...findings.slice(0, pictured).map((finding, i) => noteRow(flow, finding, i + 1, size, pictureHeight)),
    noteAlso(flow, content, findings.slice(pictured), size, full),
    noteCautions(flow, content, size - 1),
    noteParagraphs(flow, closing, { size }),
    noteParagraphs(flow, [sources], { size: 6.5, colour: SOFT }),
  ];
}

const space = (height: number): Block => ({ height, draw: () => undefined });

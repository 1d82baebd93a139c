import type { SheetFigure, SheetSection } from './content.js';
import { drawBodies } from './body-lines.js';
import { BOLD, PT_PER_MM, SOFT, TAPE, newPage, setText } from './flow.js';
import { extentOf, place, trace } from './placed.js';
import type { Extent } from './placed.js';
import { BAR_ROOM, drawScaleBar } from './scale-bar.js';
import { NARROW_MARGIN, orderAndSide, pageTitle } from './sheet-page.js';
import type { SheetPage } from './sheet-page.js';
import { drawLetter } from './tapes.js';
import { scaleWords } from './true-scale.js';

/** Letter, label and girths: in the middle of a section that has room for them, else over it. The sides stand under it. */
const WORDS = 44;
const ROOM = { width: 205, height: 92 } as const;
const FOOT = 20;
const GAP = 12;
/** A section's words need so much. */
const LEAST_WIDTH = 200;

const within = (extent: Extent, scale: number): boolean => extent.width * scale >= ROOM.width && extent.height * scale >= ROOM.height;

interface Cell {
  readonly section: SheetSection;
  readonly extent: Extent;
  readonly width: number;
  readonly height: number;
}

/** Each section at true size where the page is wide enough for it, in rows of as many as fit. */
export function drawSections(page: SheetPage): void {
  const { flow, content, words } = page;
  if (content.sections.length === 0) return;
  let scale = PT_PER_MM;
  const start = (): void => {
    newPage(flow, { layout: 'portrait', margin: NARROW_MARGIN });
    pageTitle(page, `${words.sections}   ${orderAndSide(page)}`, scaleWords(page, PT_PER_MM / scale, longest));
    drawScaleBar(page);
  };
  const extents = content.sections.map(({ cast, last, tape }) => extentOf([...cast, ...last, ...(tape === null ? [] : [tape])]));
  const longest = Math.max(...extents.map((e) => Math.max(e.width, e.height)));
  // The page before this one may lie on its side.
  const { width, height } = flow.pdf.page;
  const room = Math.min(width, height) - 2 * NARROW_MARGIN;
  const high = Math.max(width, height) - 2 * NARROW_MARGIN - BAR_ROOM - 60 - WORDS - FOOT;
  while (extents.some((e) => e.width * scale > room || e.height * scale > high)) scale /= 2;
  start();
  for (const row of rowsOf(content.sections, extents, scale, flow.width)) {
    const height = Math.max(...row.map((c) => c.height));
    if (flow.y + height > flow.bottom - BAR_ROOM) start();
    const free = flow.width - row.reduce((sum, c) => sum + c.width, 0);
    const between = free / (row.length + 1);
    let x = flow.left + between;
    for (const cell of row) {
      drawSection(page, cell, x, flow.y, scale);
      x += cell.width + between;
    }
    flow.y += height + GAP;
  }
}

/** Which of four sections stand beside each other, in the order in which it is tried: the first that fits two rows. */
const PAIRS = [[[0, 1], [2, 3]], [[0, 3], [1, 2]], [[0, 2], [1, 3]]] as const;

function rowsOf(sections: readonly SheetSection[], extents: readonly Extent[], scale: number, width: number): Cell[][] {
  const cells = sections.map((section, i): Cell => ({
    section, extent: extents[i], width: Math.max(extents[i].width * scale, LEAST_WIDTH), height: (within(extents[i], scale) ? 0 : WORDS) + extents[i].height * scale + FOOT,
  }));
  const pairs = cells.length === 4 ? PAIRS.find((rows) => rows.every(([a, b]) => cells[a].width + GAP + cells[b].width <= width)) : undefined;
  if (pairs !== undefined) return pairs.map((row) => row.map((i) => cells[i]));
  const rows: Cell[][] = [];
  let used = Infinity;
  for (const cell of cells) {
    if (used + GAP + cell.width > width) {
      rows.push([]);
      used = -GAP;
    }
    rows[rows.length - 1].push(cell);
    used += GAP + cell.width;
  }
  return rows;
}

function drawSection(page: SheetPage, { section, extent, width }: Cell, x: number, y: number, scale: number): void {
  const { flow, words } = page;
  if (section.cast.length + section.last.length === 0) {
    drawWords(page, section, x, y, width);
    setText(flow, words.noSection, x, y + WORDS, width, { size: 8.5, colour: SOFT, align: 'center' });
    return;
  }
  const left = x + (width - extent.width * scale) / 2;
  const above = within(extent, scale) ? 0 : WORDS;
  const placed = place(extent, left, y + above + extent.height * scale, scale);
  drawBodies(flow, placed, section.cast, section.last);
  if (section.tape !== null) {
    trace(flow, placed, section.tape);
    flow.pdf.lineWidth(0.7).dash(3, { space: 2 }).strokeColor(TAPE).stroke().undash();
  }
  drawWords(page, section, x, above > 0 ? y : placed.y - placed.height / 2 - 0.5 * WORDS, width);
  const [leftWord, rightWord] = section.inside === 'left' ? [words.inside, words.outside] : [words.outside, words.inside];
  setText(flow, leftWord, left, placed.y + 5, 70, { size: 8, colour: SOFT });
  setText(flow, rightWord, left + placed.width - 70, placed.y + 5, 70, { size: 8, colour: SOFT, align: 'right' });
}

/** Letter, label and girths, in the middle of `width`. */
function drawWords(page: SheetPage, section: SheetSection, x: number, y: number, width: number): void {
  const { flow, words } = page;
  flow.pdf.font(BOLD).fontSize(11);
  const label = flow.pdf.widthOfString(section.label);
  const from = x + (width - label - 20) / 2;
  drawLetter(flow, section.letter, from + 7, y + 7);
  setText(flow, section.label, from + 20, y + 1, label + 4, { font: BOLD, size: 11 });
  setText(flow, `${words.castLine}  ${girth(page, section.castGirth)}`, x, y + 18, width, { size: 9, align: 'center' });
  setText(flow, `${words.lastLine}  ${girth(page, section.lastGirth)}`, x, y + 30, width, { size: 9, font: BOLD, align: 'center' });
}

function girth({ content, words, figures }: SheetPage, figure: SheetFigure | null): string {
  if (figure === null) return words.absent;
  const inches = content.inches ? `  ${figures.inches(figure.value)} ${words.inch}` : '';
  return `${figures.plain(figure.value)} ± ${figures.around(figure)} mm${inches}`;
}

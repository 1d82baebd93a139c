import type { SheetFigure, SheetLine, SheetSection } from './content.js';
import { drawBodies } from '../paper/body-lines.js';
import { BOLD, PT_PER_MM, SOFT, TAPE, newPage, setText, textWidth } from '../paper/flow.js';
import type { TextStyle } from '../paper/flow.js';
import { extentOf, place, trace } from '../paper/placed.js';
import type { Extent } from '../paper/placed.js';
import { BAR_ROOM, drawScaleBar } from './scale-bar.js';
import { NARROW_MARGIN, orderAndSide, pageTitle } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { drawLetter } from './tapes.js';
import { scaleWords } from './true-scale.js';

/** Letter, label and girths: in the middle of a section that has room for them, else over it. The sides stand under it. */
const WORDS = 44;
/** Free room round the words within a section. */
const CLEAR = 5;
const FOOT = 20;
const GAP = 12;
/** A section's words need so much. */
const LEAST_WIDTH = 200;

/** Whether the words have room in the middle of a section: no line passes over them. */
function within(page: SheetPage, section: SheetSection, extent: Extent, scale: number): boolean {
  if (extent.height * scale < WORDS + 2 * CLEAR) return false;
  const x = extent.minRight + extent.width / 2;
  const y = extent.minUp + extent.height / 2;
  const halfWidth = (wordsWidth(page, section) / 2 + CLEAR) / scale;
  const halfHeight = (WORDS / 2 + CLEAR) / scale;
  return ![...section.cast, ...section.last, ...(section.tape === null ? [] : [section.tape])].some((line) => passesOver(line, x - halfWidth, x + halfWidth, y - halfHeight, y + halfHeight));
}

/** Whether a line has a point in a box; between its points at steps that no box of words slips through, mm. */
function passesOver({ points, closed }: SheetLine, left: number, right: number, low: number, high: number): boolean {
  const count = points.length / 2;
  for (let i = 0; i + (closed ? 0 : 1) < count; i++) {
    const j = (i + 1) % count;
    const dx = points[2 * j] - points[2 * i];
    const dy = points[2 * j + 1] - points[2 * i + 1];
    const steps = Math.ceil(Math.hypot(dx, dy)) + 1;
    for (let k = 0; k <= steps; k++) {
      const x = points[2 * i] + (dx * k) / steps;
      const y = points[2 * i + 1] + (dy * k) / steps;
      if (x > left && x < right && y > low && y < high) return true;
    }
  }
  return false;
}

interface Cell {
  readonly section: SheetSection;
  readonly extent: Extent;
  /** Whether the words stand in the middle of it. */
  readonly holdsWords: boolean;
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
    pageTitle(page, `${words.sections}   ${orderAndSide(page)}`, scaleWords(page, PT_PER_MM / scale, tooLong));
    drawScaleBar(page);
  };
  const extents = content.sections.map(({ cast, last, tape }) => extentOf([...cast, ...last, ...(tape === null ? [] : [tape])]));
  // The page before this one may lie on its side.
  const { width, height } = flow.pdf.page;
  const room = Math.min(width, height) - 2 * NARROW_MARGIN;
  const high = Math.max(width, height) - 2 * NARROW_MARGIN - BAR_ROOM - 60 - WORDS - FOOT;
  const tooLong = Math.max(...extents.flatMap((e) => [e.width * PT_PER_MM > room ? e.width : 0, e.height * PT_PER_MM > high ? e.height : 0]));
  while (extents.some((e) => e.width * scale > room || e.height * scale > high)) scale /= 2;
  start();
  for (const row of rowsOf(page, extents, scale)) {
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

function rowsOf(page: SheetPage, extents: readonly Extent[], scale: number): Cell[][] {
  const { width } = page.flow;
  const cells = page.content.sections.map((section, i): Cell => {
    const extent = extents[i];
    const holdsWords = within(page, section, extent, scale);
    return { section, extent, holdsWords, width: Math.max(extent.width * scale, LEAST_WIDTH), height: (holdsWords ? 0 : WORDS) + extent.height * scale + FOOT };
  });
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

function drawSection(page: SheetPage, { section, extent, holdsWords, width }: Cell, x: number, y: number, scale: number): void {
  const { flow, words } = page;
  if (section.cast.length + section.last.length === 0) {
    drawWords(page, section, x, y, width);
    setText(flow, words.noSection, x, y + WORDS, width, { size: 8.5, colour: SOFT, align: 'center' });
    return;
  }
  const left = x + (width - extent.width * scale) / 2;
  const above = holdsWords ? 0 : WORDS;
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

const LABEL: TextStyle = { font: BOLD, size: 11 };
const CAST: TextStyle = { size: 9, align: 'center' };
const LAST: TextStyle = { size: 9, font: BOLD, align: 'center' };
/** Room for the letter before the label. */
const LETTER = 20;

const girthLines = (page: SheetPage, section: SheetSection): readonly [string, string] => [
  `${page.words.castLine}  ${girth(page, section.castGirth)}`, `${page.words.lastLine}  ${girth(page, section.lastGirth)}`,
];

function wordsWidth(page: SheetPage, section: SheetSection): number {
  const [cast, last] = girthLines(page, section);
  return Math.max(LETTER + textWidth(page.flow, section.label, LABEL), textWidth(page.flow, cast, CAST), textWidth(page.flow, last, LAST));
}

/** Letter, label and girths, in the middle of `width`. */
function drawWords(page: SheetPage, section: SheetSection, x: number, y: number, width: number): void {
  const { flow } = page;
  const label = textWidth(flow, section.label, LABEL);
  const from = x + (width - label - LETTER) / 2;
  drawLetter(flow, section.letter, from + 7, y + 7);
  setText(flow, section.label, from + LETTER, y + 1, label + 4, LABEL);
  const [cast, last] = girthLines(page, section);
  setText(flow, cast, x, y + 18, width, CAST);
  setText(flow, last, x, y + 30, width, LAST);
}

function girth({ content, words, figures }: SheetPage, figure: SheetFigure | null): string {
  if (figure === null) return words.absent;
  const inches = content.inches ? `  ${figures.inches(figure.value)} ${words.inch}` : '';
  return `${figures.plain(figure.value)} ± ${figures.around(figure)} mm${inches}`;
}

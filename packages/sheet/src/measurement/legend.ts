import { CAST_LINE, LAST_LINE } from '../paper/body-lines.js';
import { drawChangeSwatch } from '../paper/change-areas.js';
import type { SheetMapView } from './content.js';
import { BOLD, SOFT, setText, textHeight } from '../paper/flow.js';
import type { Flow, TextStyle } from '../paper/flow.js';
import type { Figures } from '../paper/figures.js';

/** Width of a legend, points, and where its words begin beside their signs. */
export const LEGEND = 128;
const INDENT = 34;

/** A column that is written from the top down. */
export interface Legend {
  readonly x: number;
  say(text: string, style: TextStyle): void;
  /** A sign drawn by its middle, and what it stands for. */
  row(draw: (middle: number) => void, text: string): void;
  /** One line of a small table: the first cell to the left, the others to the right. */
  cells(texts: readonly string[], style: TextStyle): void;
  space(height: number): void;
}

export function openLegend(flow: Flow, x: number, top: number): Legend {
  let y = top;
  return {
    x,
    say(text, style) {
      setText(flow, text, x, y, LEGEND, style);
      y += textHeight(flow, text, LEGEND, style) + 3;
    },
    row(draw, text) {
      const style: TextStyle = { size: 8.5 };
      const tall = textHeight(flow, text, LEGEND - INDENT, style);
      const height = Math.max(15, tall);
      draw(y + height / 2);
      setText(flow, text, x + INDENT, y + (height - tall) / 2 + 1, LEGEND - INDENT, style);
      y += height + 4;
    },
    cells(texts, style) {
      const width = LEGEND / texts.length;
      texts.forEach((text, i) => setText(flow, text, x + i * width, y, width, { ...style, align: i === 0 ? 'left' : 'right' }));
      y += Math.max(...texts.map((text) => textHeight(flow, text, width, style))) + 2;
    },
    space(height) {
      y += height;
    },
  };
}

/** What a map of changes means by its hatchings, numbers and lines. */
export interface ChangesLegend {
  readonly title: string;
  readonly out: (from: string) => string;
  readonly in: (from: string) => string;
  /** Of the signed numbers. */
  readonly largest: string;
  /** Where there are none. */
  readonly none: string;
  /** Of the broad light line and of the thin dark one. */
  readonly lines: readonly [string, string];
}

/** Each hatching that the views show, and the lines of both bodies. */
export function drawChangesLegend(flow: Flow, figures: Figures, legend: Legend, map: readonly SheetMapView[], said: ChangesLegend): void {
  const { x } = legend;
  const beyonds = [...new Set(map.flatMap((v) => v.changes.filter((c) => c.areas.length > 0).map((c) => c.beyond)))];
  legend.say(said.title, { size: 9, font: BOLD });
  for (const way of [1, -1]) {
    const levels = [...new Set(map.flatMap((v) => v.changes.map((c) => c.beyond)))].filter((b) => Math.sign(b) === way);
    levels.forEach((beyond, step) => {
      if (!beyonds.includes(beyond)) return;
      const from = `${figures.plain(Math.abs(beyond))} mm`;
      legend.row((middle) => drawChangeSwatch(flow, x, middle - 6.5, beyond, step), way > 0 ? said.out(from) : said.in(from));
    });
  }
  legend.say(beyonds.length === 0 ? said.none : said.largest, { size: 8, colour: SOFT });
  [CAST_LINE, LAST_LINE].forEach(({ width, colour }, i) => {
    legend.row((middle) => flow.pdf.moveTo(x, middle).lineTo(x + 26, middle).lineWidth(width * 0.75).strokeColor(colour).stroke(), said.lines[i]);
  });
}

import { BAND, BOLD, INK, MARK, SOFT, TAPE, setText, textHeight } from '../paper/flow.js';
import type { Flow, TextStyle } from '../paper/flow.js';
import type { NoteContent, NoteFinding } from './note-content.js';
import { LINE, WANTED_DASH, drawNotePicture, notePictureHeight } from './note-picture.js';

/** A part of the note: how high it is, and how it is drawn with its top at y. */
export interface Block {
  readonly height: number;
  readonly draw: (y: number) => void;
}

const SIDE_WIDTH = 110;
/** A picture's box: as wide as a cast to above the ankle is long for its height, within these. */
const WIDTH_FOR_HEIGHT = 1.35;
const LEAST_WIDTH = 130;
const MOST_WIDTH = 235;
const ROW_GAP = 10;
const GUTTER = 14;
const SWATCH = 16;
const PARAGRAPH_GAP = 3;

/** Texts under one another. */
function texts(flow: Flow, x: number, width: number, parts: readonly (readonly [string, TextStyle])[]): Block {
  const shown = parts.filter(([text]) => text !== '');
  const heights = shown.map(([text, style]) => textHeight(flow, text, width, style) + PARAGRAPH_GAP);
  return {
    height: heights.reduce((sum, h) => sum + h, 0),
    draw: (y) => {
      let at = y;
      shown.forEach(([text, style], i) => {
        setText(flow, text, x, at, width, style);
        at += heights[i];
      });
    },
  };
}

/** The band with the title, the order and the side. */
export function noteHeader(flow: Flow, content: NoteContent): Block {
  const width = flow.width - SIDE_WIDTH - 36;
  const words = texts(flow, flow.left + 12, width, [[content.title, { font: BOLD, size: 15 }], [`Order ${content.orderNumber}`, { size: 9, colour: SOFT }]]);
  const band = Math.max(words.height + 18, 56);
  return {
    height: band + 8,
    draw: (y) => {
      flow.pdf.rect(flow.left, y, flow.width, band).fill(BAND);
      words.draw(y + 11);
      const x = flow.left + flow.width - SIDE_WIDTH - 12;
      setText(flow, content.side.toUpperCase(), x, y + 11, SIDE_WIDTH, { font: BOLD, size: 20, align: 'right' });
      setText(flow, content.date ?? '', x, y + 37, SIDE_WIDTH, { size: 9, colour: SOFT, align: 'right' });
    },
  };
}

export const noteParagraphs = (flow: Flow, paragraphs: readonly string[], style: TextStyle): Block =>
  texts(flow, flow.left, flow.width, paragraphs.map((text) => [text, style] as const));

/** One finding: its picture on the left, what it means on the right. */
export function noteRow(flow: Flow, finding: NoteFinding, number: number, size: number, pictureHeight: number): Block {
  const { picture } = finding;
  const pictureWidth = Math.min(MOST_WIDTH, Math.max(LEAST_WIDTH, WIDTH_FOR_HEIGHT * pictureHeight));
  const indent = picture === null ? 0 : pictureWidth + GUTTER;
  const [x, width] = [flow.left + indent, flow.width - indent];
  const title = texts(flow, x, width, [[`${number}. ${finding.title}`, { font: BOLD, size: size + 1.5 }]]);
  const legend = legendOf(flow, finding, x, width, size - 0.5);
  const next = texts(flow, x, width, [[`Next time: ${finding.next}`, { size }]]);
  const words = title.height + legend.height + next.height;
  const drawn = picture === null ? 0 : notePictureHeight(picture, pictureWidth, pictureHeight);
  return {
    height: Math.max(words, drawn) + ROW_GAP,
    draw: (y) => {
      if (picture !== null) drawNotePicture(flow, picture, { x: flow.left, y, width: pictureWidth, height: drawn });
      title.draw(y);
      legend.draw(y + title.height);
      next.draw(y + title.height + legend.height);
    },
  };
}

/** What the lines of the picture are: measured in full, wanted dashed, each with its words. */
function legendOf(flow: Flow, { measured, wanted, picture }: NoteFinding, x: number, width: number, size: number): Block {
  const drawn = (lines: readonly unknown[] | undefined): boolean => lines !== undefined && lines.length > 0;
  const entries = [
    { text: measured, colour: TAPE, dashed: false, swatch: drawn(picture?.measured) },
    { text: wanted, colour: MARK, dashed: true, swatch: drawn(picture?.wanted) },
  ].filter(({ text }) => text !== '');
  if (entries.length === 0) return { height: 0, draw: () => undefined };
  flow.pdf.font(BOLD).fontSize(size);
  const widths = entries.map(({ text, swatch }) => flow.pdf.widthOfString(text) + (swatch ? SWATCH + 5 : 0) + 2);
  const beside = widths.reduce((sum, w) => sum + w + GUTTER, -GUTTER) <= width;
  const line = textHeight(flow, 'x', width, { size, font: BOLD });
  const rows = entries.map(({ text, swatch }) => (beside ? line : textHeight(flow, text, width - (swatch ? SWATCH + 5 : 0), { size, font: BOLD })));
  return {
    height: (beside ? line : rows.reduce((sum, h) => sum + h, 0)) + PARAGRAPH_GAP + 1,
    draw: (y) => {
      let [left, top] = [x, y];
      entries.forEach(({ text, colour, dashed, swatch }, i) => {
        const from = swatch ? left + SWATCH + 5 : left;
        if (swatch) {
          flow.pdf.moveTo(left, top + line / 2 - 0.5).lineTo(left + SWATCH, top + line / 2 - 0.5).lineWidth(LINE).strokeColor(colour);
          if (dashed) flow.pdf.dash(WANTED_DASH[0], { space: WANTED_DASH[1] }).stroke().undash();
          else flow.pdf.stroke();
        }
        setText(flow, text, from, top, beside ? widths[i] : width - (from - left), { size, font: BOLD, colour });
        if (beside) left += widths[i] + GUTTER;
        else top += rows[i];
      });
    },
  };
}

/** The findings without a picture, in one list; with what to do about each where `full`. */
export function noteAlso(flow: Flow, content: NoteContent, findings: readonly NoteFinding[], size: number, full: boolean): Block {
  if (findings.length === 0) return { height: 0, draw: () => undefined };
  const small = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
  const block = full
    ? texts(flow, flow.left, flow.width, [
      [content.alsoTitle, { font: BOLD, size }], ...findings.map(({ title, next }) => [`•  ${title}. Next time: ${next}`, { size }] as const),
    ])
    : texts(flow, flow.left, flow.width, [[`${content.alsoTitle} ${findings.map(({ title }) => small(title)).join('; ')}.`, { size }]]);
  return { height: block.height + 6, draw: block.draw };
}

/** The cautions in a band, in two columns. */
export function noteCautions(flow: Flow, content: NoteContent, size: number): Block {
  const pad = 9;
  const column = (flow.width - 2 * pad - GUTTER) / 2;
  const style = { size };
  const heights = content.cautions.map((text) => textHeight(flow, text, column - 9, style) + PARAGRAPH_GAP);
  const sum = (from: number, to?: number): number => heights.slice(from, to).reduce((total, h) => total + h, 0);
  // As many in the first column as make the higher of the two as low as can be.
  let first = heights.length;
  for (let n = heights.length - 1; n > 0; n--) if (Math.max(sum(0, n), sum(n)) < Math.max(sum(0, first), sum(first))) first = n;
  const title = texts(flow, flow.left + pad, flow.width - 2 * pad, [[content.cautionsTitle, { font: BOLD, size: size + 1 }]]);
  const height = pad + title.height + Math.max(sum(0, first), sum(first)) + pad - PARAGRAPH_GAP;
  return {
    height: height + 8,
    draw: (y) => {
      flow.pdf.rect(flow.left, y, flow.width, height).fill(BAND);
      title.draw(y + pad);
      let at = y + pad + title.height;
      content.cautions.forEach((text, i) => {
        if (i === first) at = y + pad + title.height;
        const x = flow.left + pad + (i < first ? 0 : column + GUTTER);
        flow.pdf.circle(x + 2, at + size / 2, 1.3).fill(INK);
        setText(flow, text, x + 9, at, column - 9, style);
        at += heights[i];
      });
    },
  };
}

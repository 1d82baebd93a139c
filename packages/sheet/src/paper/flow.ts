import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';
import type { Paper } from '../measurement/content.js';

export type Pdf = InstanceType<typeof PDFDocument>;

/** Lengths on paper are points, 1/72 inch. */
export const PT_PER_MM = 72 / 25.4;
export const MARGIN = 40;
const FOOTER = 24;
const LEAST_FOOT = 38;

export const INK = '#1c2733';
export const SOFT = '#5b6a78';
export const RULE = '#c9d2da';
/** Contour lines: seen in print, behind everything. */
export const FAINT = '#aebbc6';
export const BAND = '#eef2f5';
export const TAPE = '#b23a24';
export const MARK = '#2a5db0';

export const REGULAR = 'regular';
export const BOLD = 'bold';

/** A document and how far down its page is used; sections write at `y` and move it on. */
export interface Flow {
  readonly pdf: Pdf;
  left: number;
  width: number;
  bottom: number;
  y: number;
}

/** An open document with its fonts; `created` goes into the file so that equal content gives equal bytes. */
export function openFlow(paper: Paper, title: string, created: Date, lang = 'en'): Flow {
  const pdf = new PDFDocument({
    size: paper === 'a4' ? 'A4' : 'LETTER', margin: 0, bufferPages: true, autoFirstPage: true, lang,
    info: { Title: title, Creator: 'cast-to-last', Producer: 'cast-to-last', CreationDate: created, ModDate: created },
  });
  const find = createRequire(import.meta.url).resolve;
  pdf.registerFont(REGULAR, find('@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf'));
  pdf.registerFont(BOLD, find('@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf'));
  const { width, height } = pdf.page;
  return { pdf, left: MARGIN, width: width - 2 * MARGIN, bottom: height - MARGIN - FOOTER, y: MARGIN };
}

/** How a page lies, and how much of its edge stays free, points. */
export interface PageForm {
  readonly layout: 'portrait' | 'landscape';
  readonly margin: number;
}

export function newPage(flow: Flow, { layout, margin }: PageForm = { layout: 'portrait', margin: MARGIN }): void {
  const { size } = flow.pdf.options;
  flow.pdf.addPage({ size, layout, margin: 0 });
  const { width, height } = flow.pdf.page;
  flow.left = margin;
  flow.width = width - 2 * margin;
  // What stands at the foot of every page needs its room where the margin is narrow, too.
  flow.bottom = height - Math.max(margin + FOOTER, LEAST_FOOT);
  flow.y = margin;
}

/** A new page unless `height` still fits on this one. */
export function makeRoom(flow: Flow, height: number): void {
  if (flow.y + height > flow.bottom) newPage(flow);
}

/** Text as it can be set: control characters become spaces. */
export const printable = (text: string): string => text.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').trim();

export interface TextStyle {
  readonly font?: string;
  readonly size?: number;
  readonly colour?: string;
  readonly align?: 'left' | 'right' | 'center';
}

export function textHeight(flow: Flow, text: string, width: number, style: TextStyle = {}): number {
  flow.pdf.font(style.font ?? REGULAR).fontSize(style.size ?? 8.5);
  return flow.pdf.heightOfString(printable(text) || ' ', { width, lineGap: 1 });
}

export function setText(flow: Flow, text: string, x: number, y: number, width: number, style: TextStyle = {}): void {
  flow.pdf.font(style.font ?? REGULAR).fontSize(style.size ?? 8.5).fillColor(style.colour ?? INK);
  flow.pdf.text(printable(text), x, y, { width, lineGap: 1, align: style.align ?? 'left' });
}

/** Width of a text on one line, points. */
export function textWidth(flow: Flow, text: string, style: TextStyle): number {
  flow.pdf.font(style.font ?? REGULAR).fontSize(style.size ?? 8.5);
  return flow.pdf.widthOfString(printable(text));
}

/** A text cut short with an ellipsis so that it stands on one line of this width. */
export function fitted(flow: Flow, text: string, width: number, style: TextStyle): string {
  flow.pdf.font(style.font ?? REGULAR).fontSize(style.size ?? 8.5);
  const whole = printable(text);
  if (flow.pdf.widthOfString(whole) <= width) return whole;
  let [least, most] = [0, whole.length];
  while (least < most) {
    const middle = Math.ceil((least + most) / 2);
    if (flow.pdf.widthOfString(`${whole.slice(0, middle)}…`) <= width) least = middle;
    else most = middle - 1;
  }
  return `${whole.slice(0, least)}…`;
}

export function heading(flow: Flow, text: string, roomAfter: number): void {
  makeRoom(flow, 26 + roomAfter);
  flow.y += 8;
  setText(flow, text, flow.left, flow.y, flow.width, { font: BOLD, size: 11 });
  flow.y += 17;
}

/** A paragraph over the whole width; goes to the next page as one piece. */
export function paragraph(flow: Flow, text: string, style: TextStyle = {}): void {
  const height = textHeight(flow, text, flow.width, style);
  makeRoom(flow, height);
  setText(flow, text, flow.left, flow.y, flow.width, style);
  flow.y += height + 3;
}

/** The finished file. */
export function closeFlow(flow: Flow): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  return new Promise((resolve, reject) => {
    flow.pdf.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    flow.pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    flow.pdf.on('error', reject);
    flow.pdf.end();
  });
}

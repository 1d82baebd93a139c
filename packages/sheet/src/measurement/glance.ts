import { BAND, BOLD, INK, RULE, SOFT, fitted, makeRoom, setText, textHeight } from '../paper/flow.js';
import type { TextStyle } from '../paper/flow.js';
import { drawHeader } from './header.js';
import { drawMeasures, measureRow, measuresHeight } from './measures-table.js';
import { shortened } from '../paper/sheet-page.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { table } from '../paper/table.js';

/** Where the page begins and ends: it has much to hold. */
const TOP = 28;
const FOOT = 36;
const APPROVAL = 34;
/** Room that the check keeps where the page is full; where even close rows leave less, it names one finding. */
const LEAST_CHECK = 112;
const GUTTER = 18;
/** Width of the block of marks. */
const MARKS = 174;
/** Findings that the first page has room to name. */
const MOST_FINDINGS = 6;

/** The job at a glance; on one page where the lists are of the usual length. */
export function drawGlance(page: SheetPage): void {
  const { flow } = page;
  flow.y = TOP;
  flow.bottom = flow.pdf.page.height - FOOT;
  drawHeader(page);
  drawSizes(page);
  const check = Math.min(checkHeight(page, MOST_FINDINGS), LEAST_CHECK);
  const one = checkHeight(page, 1);
  const roomBut = ({ height }: ChangeRows, kept: number): number => flow.bottom - flow.y - kept - particularsHeight(page) - APPROVAL - changesHeight(page, height);
  const close = roomBut(WIDE_ROWS, check) < measuresHeight(page);
  const tight = close && roomBut(CLOSE_ROWS, one) < measuresHeight(page);
  const rows = tight ? TIGHT_ROWS : close ? CLOSE_ROWS : WIDE_ROWS;
  drawMeasures(page, measureRow(page, roomBut(rows, tight ? one : check), tight));
  drawChanges(page, rows);
  drawCheckAndMarks(page);
  drawParticulars(page);
  makeRoom(flow, APPROVAL);
  // At the foot of the page, where a signature is looked for.
  flow.y = flow.bottom - APPROVAL + 8;
  drawApproval(page);
}

function title({ flow }: SheetPage, text: string, x = flow.left, width = flow.width): void {
  setText(flow, text, x, flow.y, width, { font: BOLD, size: 10.5 });
}

/** Sizes side by side, the convention underneath. */
function drawSizes(page: SheetPage): void {
  const { flow, content, words, figures } = page;
  const systems = Object.keys(words.sizeSystems) as (keyof typeof words.sizeSystems)[];
  const width = flow.width / systems.length;
  systems.forEach((system, i) => {
    const size = content.sizes[system];
    const text = size === null ? words.noSize : figures.plain(size, Number.isInteger(size) ? 0 : 1);
    setText(flow, words.sizeSystems[system], flow.left + i * width, flow.y, width - 6, { size: 8, colour: SOFT });
    setText(flow, text, flow.left + i * width, flow.y + 10, width - 6, { font: BOLD, size: 15 });
  });
  flow.y += 29;
  const style: TextStyle = { size: 6.8, colour: SOFT };
  setText(flow, words.sizeConvention, flow.left, flow.y, flow.width, style);
  flow.y += textHeight(flow, words.sizeConvention, flow.width, style) + 7;
}

/** Rows of changes: as many of them as rules ask for at once stand closer. Points. */
interface ChangeRows {
  readonly size: number;
  readonly pad: number;
  readonly height: number;
}
const WIDE_ROWS: ChangeRows = { size: 9, pad: 1.5, height: 13.6 };
const CLOSE_ROWS: ChangeRows = { size: 8, pad: 0.7, height: 10.6 };
/** As many on a page as short as US Letter. */
const TIGHT_ROWS: ChangeRows = { size: 7.5, pad: 0.2, height: 9.1 };

function changesHeight({ content: { changes, flatTopMm } }: SheetPage, row: number): number {
  const said = (changes.length === 0 ? 1 : 0) + (flatTopMm === null ? 0 : 1);
  return 24 + (changes.length === 0 ? 0 : 12 + row * changes.length + 4) + 13 * said;
}

function drawChanges(page: SheetPage, rows: ChangeRows): void {
  const { flow, content, words, figures } = page;
  const { changes, flatTopMm } = content;
  flow.y += 5;
  makeRoom(flow, 30);
  title(page, words.changes);
  flow.y += 15;
  const unit = (of: string): string => (of === 'deg' ? '°' : ` ${of}`);
  const inches = (value: number, of: string): string => (content.inches && of === 'mm' ? `  (${figures.inches(value)} ${words.inch})` : '');
  if (changes.length > 0) {
    table(
      flow,
      [
        { title: words.change, share: 38 }, { title: words.before, share: 14, align: 'right' }, { title: words.asked, share: 14, align: 'right' },
        { title: words.got, share: 24, align: 'right' }, { title: words.gotLessAsked, share: 17, align: 'right' },
      ],
      changes.map((c) => [
        c.label, `${figures.plain(c.before)}${unit(c.unit)}`, c.asked === null ? '–' : `${figures.plain(c.asked)}${unit(c.unit)}`, `${figures.plain(c.got)}${unit(c.unit)}${inches(c.got, c.unit)}`,
        c.asked === null ? '' : figures.signed(c.got - c.asked, 2),
      ]),
      { size: rows.size },
      rows.pad,
    );
  }
  const said = [changes.length === 0 ? words.noChanges : '', flatTopMm === null ? '' : words.flatTop(`${figures.plain(flatTopMm, 0)} mm${inches(flatTopMm, 'mm')}`)];
  for (const text of said.filter((t) => t !== '')) {
    setText(flow, text, flow.left, flow.y, flow.width, { size: 9 });
    flow.y += 13;
  }
  flow.y += 4;
}

const finding = (text: string): string => shortened(text, 200);

/** Height of the check with so many findings. */
function checkHeight({ flow, content }: SheetPage, most: number): number {
  const width = flow.width - MARKS - GUTTER - 74;
  const findings = content.findings.slice(0, most).reduce((sum, f) => sum + textHeight(flow, finding(f.text), width, { size: 8.5 }) + 2, 0);
  return Math.max(52, 15 + findings + 12) + 6;
}

/** The findings on the left, the marks counted on the right. */
function drawCheckAndMarks(page: SheetPage): void {
  const { flow, content, words } = page;
  const right = MARKS;
  const left = flow.width - right - GUTTER;
  const said = content.findings.map(({ severity, text }) => ({ label: words.severities[severity], text: finding(text) }));
  const heightOf = (f: { text: string }): number => textHeight(flow, f.text, left - 74, { size: 8.5 }) + 2;
  const least = said.length === 0 ? 0 : heightOf(said[0]) + 14;
  const room = Math.max(flow.bottom - flow.y - APPROVAL - 15 - particularsHeight(page) - 6, least);
  let shown = 0;
  for (let used = 0; shown < Math.min(said.length, MOST_FINDINGS) && used + heightOf(said[shown]) <= room - 14; shown++) used += heightOf(said[shown]);
  makeRoom(flow, 16 + 44);
  const top = flow.y;
  title(page, words.castCheck, flow.left, left);
  flow.y += 15;
  if (said.length === 0) {
    setText(flow, words.noFindings, flow.left, flow.y, left, { size: 9 });
    flow.y += 13;
  }
  for (const named of said.slice(0, shown)) {
    setText(flow, named.label, flow.left, flow.y, 70, { size: 8.5, font: BOLD });
    setText(flow, named.text, flow.left + 74, flow.y, left - 74, { size: 8.5 });
    flow.y += heightOf(named);
  }
  if (shown < said.length) {
    setText(flow, shown === 0 ? `${said[0].label}: ${words.more(said.length)}` : words.more(said.length - shown), flow.left, flow.y, left, { size: 8.5, colour: SOFT });
    flow.y += 12;
  }
  const findingsEnd = flow.y;
  flow.y = top;
  drawMarkCounts(page, flow.left + left + GUTTER, right);
  flow.y = Math.max(findingsEnd, flow.y) + 6;
}

function drawMarkCounts(page: SheetPage, x: number, width: number): void {
  const { flow, content, words } = page;
  title(page, words.marks, x, width);
  flow.y += 14;
  const decisions = ['smooth', 'keep', 'ask'] as const;
  decisions.forEach((decision, i) => {
    const count = content.marks.filter((m) => m.decision === decision).length;
    const at = x + (i * width) / 3;
    setText(flow, String(count), at, flow.y, width / 3, { font: BOLD, size: 15 });
    setText(flow, words.decisions[decision], at, flow.y + 18, width / 3, { size: 7.5, colour: SOFT });
  });
  flow.y += 38;
}

const PARTICULAR = 11.5;

/** Two columns of one-line particulars, and the remarks under them. */
function drawParticulars(page: SheetPage): void {
  const { flow, content, words } = page;
  makeRoom(flow, particularsHeight(page));
  flow.pdf.moveTo(flow.left, flow.y).lineTo(flow.left + flow.width, flow.y).lineWidth(0.4).strokeColor(RULE).stroke();
  flow.y += 5;
  const column = (flow.width - GUTTER) / 2;
  content.particulars.forEach(({ label, text }, i) => {
    const x = flow.left + (i % 2) * (column + GUTTER);
    const y = flow.y + Math.floor(i / 2) * PARTICULAR;
    setText(flow, label, x, y, 62, { size: 8, colour: SOFT });
    setText(flow, fitted(flow, text, column - 68, { size: 8 }), x + 66, y, column - 66, { size: 8 });
  });
  flow.y += Math.ceil(content.particulars.length / 2) * PARTICULAR;
  if (content.remarks !== null) {
    setText(flow, words.remarks, flow.left, flow.y, 62, { size: 8, colour: SOFT });
    setText(flow, shortened(content.remarks, 220), flow.left + 66, flow.y, flow.width - 66, { size: 8, font: BOLD });
    flow.y += remarksHeight(page);
  }
}

const remarksHeight = ({ flow, content }: SheetPage): number =>
  content.remarks === null ? 0 : textHeight(flow, shortened(content.remarks, 220), flow.width - 66, { size: 8, font: BOLD }) + 3;

const particularsHeight = (page: SheetPage): number => 8 + Math.ceil(page.content.particulars.length / 2) * PARTICULAR + remarksHeight(page);

const APPROVED: TextStyle = { font: BOLD, size: 10.5 };

/** Who approved the last and when; lines to sign on where nobody has. */
function drawApproval({ flow, content, words }: SheetPage): void {
  const { pdf, left, width, y } = flow;
  const { approval } = content;
  if (approval !== null) {
    pdf.rect(left, y, width, APPROVAL - 10).fill(BAND);
    setText(flow, words.approved(fitted(flow, approval.by, width * 0.6, APPROVED), approval.on), left + 8, y + 6, width - 16, APPROVED);
    return;
  }
  const [names, dates] = [width * 0.4, width * 0.22];
  const lines = [[left, names, words.approvedBy], [left + names + GUTTER, dates, words.date], [left + names + dates + 2 * GUTTER, width - names - dates - 2 * GUTTER, words.signature]] as const;
  for (const [x, length, label] of lines) {
    pdf.moveTo(x, y + 14).lineTo(x + length, y + 14).lineWidth(0.6).strokeColor(INK).stroke();
    setText(flow, label, x, y + 16.5, length, { size: 7.5, colour: SOFT });
  }
}

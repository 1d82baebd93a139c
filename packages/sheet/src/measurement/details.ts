import { MARGIN, SOFT, heading, newPage, paragraph, setText, textHeight, makeRoom, BOLD } from '../paper/flow.js';
import type { Flow } from '../paper/flow.js';
import type { SheetPage } from '../paper/sheet-page.js';
import { shortened } from '../paper/sheet-page.js';
import { table } from '../paper/table.js';

/** What the maker looks up: how the cast was taken, findings and readings, the list of marks, cautions. */
export function drawDetails(page: SheetPage): void {
  newPage(page.flow, { layout: 'portrait', margin: MARGIN });
  drawMarkList(page);
  drawCasting(page);
  drawFindings(page);
  drawReadings(page);
  drawCautions(page);
}

function drawMarkList({ flow, content, words, figures }: SheetPage): void {
  heading(flow, words.marksOf(content.marks.length), 40);
  if (content.marks.length === 0) {
    paragraph(flow, words.noMarks, { size: 9 });
    return;
  }
  table(
    flow,
    [
      { title: words.number, share: 6, align: 'right' }, { title: words.kind, share: 9 }, { title: words.place, share: 20 }, { title: words.depth, share: 13, align: 'right' },
      { title: words.sizeMm, share: 14, align: 'right' }, { title: words.decision, share: 15 }, { title: words.why, share: 46 },
    ],
    content.marks.map((m) => [
      String(m.number), words.kinds[m.kind], m.centre.map((c) => figures.plain(c, 0)).join(', '), figures.signed(m.depth), `${figures.plain(m.length, 0)} × ${figures.plain(m.width, 0)}`,
      words.decisions[m.decision], m.why,
    ]),
    { size: 8.5 },
  );
}

/** Texts below each other, their labels in a column before them. */
function labelled(flow: Flow, rows: readonly { readonly label: string; readonly text: string }[], look: { readonly colour?: string; readonly font?: string }): void {
  for (const { label, text } of rows) {
    const height = textHeight(flow, text, flow.width - 84, { size: 9 });
    makeRoom(flow, height);
    setText(flow, label, flow.left, flow.y, 80, { size: 9, ...look });
    setText(flow, text, flow.left + 84, flow.y, flow.width - 84, { size: 9 });
    flow.y += height + 3;
  }
}

function drawCasting({ flow, content, words }: SheetPage): void {
  const rows = content.remarks === null ? content.casting : [...content.casting, { label: words.remarks, text: content.remarks }];
  if (rows.length === 0) return;
  heading(flow, words.howCast, 20);
  labelled(flow, rows, { colour: SOFT });
}

function drawFindings({ flow, content, words }: SheetPage): void {
  const said = [
    ...content.findings.map(({ severity, text }) => ({ label: words.severities[severity], text })),
    ...content.warnings.map((text) => ({ label: words.severities.note, text })),
  ];
  if (said.length === 0) return;
  heading(flow, words.findings, 24);
  labelled(flow, said, { font: BOLD });
}

/** Every reading of the check with its limits, and under them why some could not be taken or weighed. */
function drawReadings({ flow, content, words }: SheetPage): void {
  if (content.readings.length === 0) return;
  heading(flow, words.castCheck, 40);
  table(
    flow,
    [
      { title: words.reading, share: 40 }, { title: words.measured, share: 21, align: 'right' }, { title: words.wanted, share: 13, align: 'right' },
      { title: words.careBeyond, share: 15, align: 'right' }, { title: words.recastBeyond, share: 17, align: 'right' }, { title: words.state, share: 16 },
    ],
    content.readings.map((r) => [r.label, r.measured, r.wanted, r.care, r.recast, r.state]),
    { size: 8.5 },
  );
  for (const reason of content.reasons) paragraph(flow, shortened(reason, 400), { size: 8 });
  paragraph(flow, words.readingNote, { size: 7.5, colour: SOFT });
}

function drawCautions({ flow, content, words }: SheetPage): void {
  const { cautions } = content;
  if (cautions.length === 0) return;
  const height = cautions.reduce((sum, caution) => sum + textHeight(flow, caution, flow.width, { size: 8 }) + 3, 26);
  makeRoom(flow, Math.min(height, flow.bottom - MARGIN));
  heading(flow, words.cautionsTitle, 30);
  for (const caution of cautions) paragraph(flow, caution, { size: 8 });
}

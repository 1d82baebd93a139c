import { PLASTER_DUST_LIMITS } from '@cast-to-last/foot/published/plaster-dust';
import type { FootSide, Paper, SheetContent, SheetFigure, SheetLanguage, SheetMeasure, SheetReading, SheetSizes } from '@cast-to-last/sheet/measurement/content';
import type { SheetWords } from '@cast-to-last/sheet/words/sheet-words';
import { wordsOf } from '@cast-to-last/sheet/words/words-of';
import { castingParticulars } from './casting-particulars.js';
import type { CastCheck } from '../records.js';
import { figureWithUnit, readingReasons, readingRows } from '../report/reading-row.js';
import type { ReportedMeasurement } from '../report/report.js';
import { sheetDrawings, GIRTH_LETTERS } from './sheet-drawings.js';
import type { SheetReport } from './sheet-report.js';
import { worstFirst } from '../report/worst-first.js';
import { recordFingerprint } from './record-fingerprint.js';
import type { SheetShapes } from './sheet-shapes.js';
import { findingText, knownLabel, withDecimals } from './spoken.js';

/** What the host puts on the sheet beside the report. */
export interface SheetHeader {
  readonly orderNumber: string;
  /** ISO date; the sheet itself reads no clock. */
  readonly date: string | null;
  readonly customerNumber?: string;
  readonly remarks?: string;
  /** Who approved the last and on what ISO date; where nobody has, the sheet has lines to sign on. */
  readonly approval?: { readonly by: string; readonly on: string };
  /** Where the host shows the record; without it the code names order, side and fingerprint. */
  readonly recordUrl?: string;
  /** Measures of the other foot, or of another cast of this one, to stand beside. */
  readonly other?: { readonly side: FootSide; readonly measurements: readonly ReportedMeasurement[] };
}

/** How the sheet is set: the rules' `sheet`. */
export interface SheetForm {
  readonly paper: Paper;
  readonly language: SheetLanguage;
  readonly inches: boolean;
}

/** All that the sheet of this report says, figures as the stages gave them. */
export function sheetContent(report: SheetReport, shapes: SheetShapes, header: SheetHeader, form: SheetForm): SheetContent {
  const words = wordsOf(form.language);
  const { side } = report.scan;
  const fingerprint = recordFingerprint(report);
  const { other } = header;
  const measures = measuresOf(report.measurements, other?.measurements ?? [], words);
  const { mondopoint, parisPoint, uk, usMen, usWomen }: SheetSizes = report.sizes;
  return {
    paper: form.paper,
    language: form.language,
    inches: form.inches,
    orderNumber: header.orderNumber,
    customerNumber: header.customerNumber ?? null,
    remarks: header.remarks ?? null,
    side,
    date: header.date,
    record: header.recordUrl ?? `cast-to-last:order/${encodeURIComponent(header.orderNumber)}/${side}/${fingerprint}`,
    fingerprint,
    approval: header.approval ?? null,
    verdict: report.castCheck.verdict,
    particulars: particularsOf(report, words),
    casting: castingParticulars(report.casting, side, words),
    measures,
    other: other === undefined ? null : other.side === side ? 'same' : other.side,
    sizes: { mondopoint, parisPoint, uk, usMen, usWomen },
    changes: report.last.allowances.changes.map((c) => ({ ...c, label: knownLabel(words.changeLabels, c.id) ?? c.label })),
    flatTopMm: report.last.allowances.changes.some((c) => c.id === 'top-height') ? null : report.last.allowances.topHeightMm,
    ...checkOf(report.castCheck, words),
    warnings: report.warnings.map((text) => words.sentence(text)),
    ...sheetDrawings(shapes, measures, report.marks, side),
    marks: report.marks.map((m, i) => ({
      number: i + 1, id: m.id, kind: m.kind, centre: m.centre, depth: m.depth, length: m.length, width: m.width, decision: m.decision, why: words.sentence(m.why),
    })),
    cautions: cautionsOf(words),
  };
}

/** What every sheet says to whoever works from it, each with its source. */
function cautionsOf(words: SheetWords): string[] {
  const limits = ({ total, respirable }: { readonly total: number; readonly respirable: number }): string => withDecimals(`${total} / ${respirable}`, words);
  return Object.values(words.cautions).map((caution) => (typeof caution === 'string' ? caution : caution(limits(PLASTER_DUST_LIMITS.niosh), limits(PLASTER_DUST_LIMITS.osha))));
}

function particularsOf({ scan, rules, program }: SheetReport, words: SheetWords): SheetContent['particulars'] {
  const kind = words.scanKinds[scan.kind];
  const wall = scan.wallMm === null ? null : withDecimals(figureWithUnit(scan.wallMm, 'mm', scan.wallUncertainty), words);
  return [
    { label: words.rules, text: words.version(rules.name, rules.version) },
    { label: words.program, text: `cast-to-last ${program.version}` },
    { label: words.scanFile, text: scan.file },
    { label: words.scanOf, text: `${wall === null ? kind : words.wall(kind, wall)}; ${words.unit} ${scan.unit} (${words.unitHow[scan.unitHow]})` },
  ];
}

/** The cast check in words; findings worst first. */
function checkOf({ findings, readings }: CastCheck, words: SheetWords): Pick<SheetContent, 'findings' | 'readings' | 'reasons'> {
  const named = readings.map((r) => ({ ...r, label: readingLabel(r.id, words) ?? r.label, why: r.why === '' ? '' : words.sentence(r.why) }));
  const rows = readingRows({ readings: named, findings }).map((r): SheetReading => ({
    label: r.label, measured: r.measured === 'not read' ? words.notRead : withDecimals(r.measured, words), wanted: withDecimals(r.wanted, words), care: withDecimals(r.care, words),
    recast: withDecimals(r.recast, words), state: words.states[r.state],
  }));
  return {
    findings: findings.toSorted(worstFirst).map((f) => ({ severity: f.severity, text: findingText(f, words) })),
    readings: rows,
    reasons: readingReasons({ readings: named }),
  };
}

/** The label of a reading by its id: its own, or that of the measure which it is about. */
function readingLabel(id: string, words: SheetWords): string | undefined {
  const own = knownLabel(words.readingLabels, id);
  if (own !== undefined) return own;
  const measure = (of: string): string => knownLabel(words.measureLabels, of) ?? of;
  if (id.startsWith('tape-')) return words.againstTape(measure(id.slice('tape-'.length)));
  if (id.startsWith('population-')) return words.inPopulation(id.slice('population-'.length).split('-to-').map(measure).join(' / '));
  return undefined;
}

/** One row a measure: that of the cleaned cast, of the last, and of the other cast. */
function measuresOf(all: readonly ReportedMeasurement[], others: readonly ReportedMeasurement[], words: SheetWords): SheetMeasure[] {
  const ids = [...new Set(all.map((m) => m.id))];
  return ids.map((id) => {
    const on = (where: 'cast' | 'last', list = all) => list.find((m) => m.id === id && m.on === where);
    const cast = on('cast');
    const last = on('last');
    const other = on('cast', others);
    const ofCast = figure(cast);
    const ofLast = figure(last);
    const ofOther = figure(other);
    const unit = [cast, last, other].find((m) => m !== undefined && 'value' in m);
    return {
      id,
      letter: GIRTH_LETTERS[id] ?? '',
      label: knownLabel(words.measureLabels, id) ?? (cast ?? last)?.label ?? id,
      unit: unit !== undefined && 'value' in unit ? unit.unit : id === 'ball-angle' ? 'deg' : 'mm',
      cast: ofCast,
      last: ofLast,
      change: ofCast === null || ofLast === null ? null : ofLast.value - ofCast.value,
      other: ofOther,
      difference: ofCast === null || ofOther === null ? null : ofCast.value - ofOther.value,
      remark: remark(cast, last, words),
    };
  });
}

const figure = (m: ReportedMeasurement | undefined): SheetFigure | null => (m !== undefined && 'value' in m ? { value: m.value, uncertainty: m.uncertainty } : null);

function remark(cast: ReportedMeasurement | undefined, last: ReportedMeasurement | undefined, words: SheetWords): string {
  const ofCast = about(cast, words);
  const ofLast = about(last, words);
  if (ofCast === ofLast || ofLast === '') return ofCast;
  return [ofCast, words.ofLast(ofLast)].filter((text) => text !== '').join(' ');
}

function about(m: ReportedMeasurement | undefined, words: SheetWords): string {
  if (m === undefined) return '';
  if (!('value' in m)) return words.sentence(m.absent);
  return m.onFilled >= 0.005 ? words.onFilled((100 * m.onFilled).toFixed(0)) : '';
}

import { isTaken } from '@cast-to-last/foot/measures';
import type { Measurement } from '@cast-to-last/foot/measures';
import type { SheetContent, SheetFigure, SheetMeasure } from '@cast-to-last/sheet/content';
import { castingParticulars } from './casting-particulars.js';
import { CAUTIONS } from './cautions.js';
import type { CastOutcome } from './outcome.js';
import type { CastCheck, Finding, MarkDecision, ScanKind, Wall } from './records.js';
import { readingReasons, readingRows } from './reading-row.js';
import { settledMarks } from './settled-marks.js';
import { sheetDrawings } from './sheet-drawings.js';

/** What the host puts on the sheet beside the outcome. */
export interface SheetHeader {
  readonly orderNumber: string;
  /** ISO date; the sheet itself reads no clock. */
  readonly date: string | null;
  readonly fileName: string;
  readonly programVersion: string;
  readonly customerNumber?: string;
  readonly remarks?: string;
  /** What the host has to say: of the scanner. */
  readonly warnings?: readonly string[];
}

const KINDS: Record<ScanKind, string> = { positive: 'plaster positive', outside: 'shell, outside', inside: 'shell, inside' };
const kindOf = (kind: ScanKind, wall: Wall | null): string =>
  wall === null ? KINDS[kind] : `${KINDS[kind]}, wall ${wall.mm.toFixed(1)} ± ${wall.uncertainty.toFixed(1)} mm`;
const VERDICTS: Record<CastCheck['verdict'], string> = {
  usable: 'The cast is usable.',
  'usable-with-care': 'The cast is usable with care.',
  recast: 'Cast again: a last from this cast would not fit.',
};
/** Worst first. */
const RANK: Record<Finding['severity'], number> = { recast: 0, care: 1, note: 2 };
const DECISIONS: Record<MarkDecision, string> = { smooth: 'smoothed', keep: 'kept', ask: 'ask the maker' };

const MEASURE_NOTE =
  'Lengths run along the heel-ball axis: from the centre of the heel to the centre of the ball, in the plane the cast rests on, ' +
  'from under the rearmost point of the heel. Girths are the length of a tight tape. ± is the half-width of a 95 % interval.';
const DRAWING_NOTE =
  'Outlines of the cleaned cast, without allowances. Grey lines: contours every 10 mm of depth. Red: where the tapes lie. Blue: marks.';

/** All that the sheet of this outcome says, figures as the stages gave them. */
export function sheetContent(outcome: CastOutcome, header: SheetHeader): SheetContent {
  const { scan, aligned, casting, check, inspected, measured, last, sizes, rules, shelled } = outcome;
  const marks = settledMarks(inspected, measured);
  const size = (value: number | null): string => (value === null ? 'none' : String(value));
  return {
    paper: rules.sheet.paper,
    orderNumber: header.orderNumber,
    side: aligned.side,
    date: header.date,
    particulars: [
      { label: 'Scan file', text: header.fileName },
      { label: 'Scan of', text: kindOf(scan.kind, shelled.wall) },
      { label: 'Unit', text: `${scan.unit} (${scan.unitHow})` },
      { label: 'Rules', text: `${rules.name}, version ${rules.version}` },
      { label: 'Allowances', text: allowances(outcome) },
      { label: 'Program', text: `cast-to-last ${header.programVersion}` },
      ...castingParticulars(casting, aligned.side),
      ...(header.customerNumber === undefined ? [] : [{ label: 'Customer', text: header.customerNumber }]),
      ...(header.remarks === undefined ? [] : [{ label: 'Remarks', text: header.remarks }]),
    ],
    measures: measures(measured.measurements, last.measurements),
    measureNote: MEASURE_NOTE,
    sizes: [
      { system: 'Mondopoint', size: size(sizes.mondopoint) },
      { system: 'Paris point (EU)', size: size(sizes.parisPoint) },
      { system: 'UK adult', size: size(sizes.uk) },
      { system: 'US men', size: size(sizes.usMen) },
      { system: 'US women', size: size(sizes.usWomen) },
    ],
    sizeConvention: sizes.convention,
    castCheck: {
      verdict: VERDICTS[check.verdict],
      findings: check.findings.toSorted((a, b) => RANK[a.severity] - RANK[b.severity]).map(({ severity, text }) => ({ severity, text })),
      readings: readingRows(check),
      reasons: readingReasons(check),
    },
    warnings: [...new Set([...(header.warnings ?? []), ...scan.warnings, ...shelled.warnings, ...aligned.warnings])],
    drawings: sheetDrawings(measured, marks, aligned.side),
    drawingNote: DRAWING_NOTE,
    marks: marks.map((m) => ({
      id: m.id, kind: m.kind, centre: m.centre, depth: m.depth, length: m.length, width: m.width, decision: DECISIONS[m.decision], why: m.why,
    })),
    cautions: CAUTIONS,
  };
}

function allowances({ last: { allowances: a } }: CastOutcome): string {
  const toe = a.toeMm === 0 ? 'no toe allowance' : `toe ${a.toeMm} mm`;
  return a.topHeightMm === null ? `${toe}, top closed as cast` : `${toe}, flat top at ${a.topHeightMm} mm`;
}

const figure = (m: Measurement | undefined): SheetFigure | null =>
  m !== undefined && isTaken(m) ? { value: m.value, uncertainty: m.uncertainty } : null;

/** One row a measure: that of the cleaned cast and that of the last. */
function measures(cast: readonly Measurement[], last: readonly Measurement[]): SheetMeasure[] {
  return cast.map((m) => {
    const twin = last.find((other) => other.id === m.id);
    const unit = [m, twin].find((x) => x !== undefined && isTaken(x));
    return {
      label: m.label,
      unit: unit !== undefined && isTaken(unit) ? unit.unit : m.id === 'ball-angle' ? 'deg' : 'mm',
      cast: figure(m),
      last: figure(twin),
      remark: remark(m, twin),
    };
  });
}

function remark(cast: Measurement, last: Measurement | undefined): string {
  const ofCast = about(cast);
  const ofLast = last === undefined ? '' : about(last);
  if (ofCast === ofLast || ofLast === '') return ofCast;
  return [ofCast, `Last: ${ofLast}`].filter((text) => text !== '').join(' ');
}

function about(m: Measurement): string {
  if (!isTaken(m)) return m.absent;
  return m.onFilled >= 0.005 ? `${(100 * m.onFilled).toFixed(0)} % of it on surface that repair filled.` : '';
}

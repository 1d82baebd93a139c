import type { Point } from '@cast-to-last/foot/landmarks';
import { isTaken } from '@cast-to-last/foot/measures';
import type { Measurement } from '@cast-to-last/foot/measures';
import type { Sizes } from '@cast-to-last/foot/sizes';
import type { Side } from '@cast-to-last/foot/side';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { settledMarks } from './settled-marks.js';
import type { LastChange } from '../last/last-body.js';
import type { Casting } from '../order.js';
import type { CastOutcome, CheckOutcome } from '../outcome.js';
import type { CastCheck, Last, LengthUnit, MarkDecision, MarkKind, RepairCounts, Scan, ScanKind, WallHow } from '../records.js';
import { rounded } from './rounded.js';

/**
 * check.json: what is known of a cast up to the verdict on it. packages/pipeline/schema/check.schema.json describes the
 * same. Lengths mm, areas mm², volumes mm³.
 */
export interface CheckReport {
  readonly schema: 1;
  readonly scan: {
    readonly file: string;
    readonly sha256: string;
    readonly format: Scan['format'];
    readonly triangles: number;
    readonly unit: LengthUnit;
    readonly unitHow: 'given' | 'inferred';
    readonly kind: ScanKind;
    readonly side: Side;
    /** Thickness of the shell's wall, how it is known, and the half-width of its 95 % interval; null for a positive, and where one side was scanned that needs none. */
    readonly wallMm: number | null;
    readonly wallHow: WallHow | null;
    readonly wallUncertainty: number | null;
    readonly repairs: RepairCounts;
  };
  /** Scan coordinates in mm → foot frame, 4 × 4 row-major. */
  readonly transform: readonly number[];
  readonly measurements: readonly ReportedMeasurement[];
  readonly sizes: Sizes;
  /** What the order says of how the cast was taken. */
  readonly casting: Casting;
  readonly castCheck: CastCheck;
  readonly rules: { readonly name: string; readonly version: string; readonly sha256: string };
  readonly stages: readonly StageRecord[];
  readonly program: { readonly version: string };
  readonly warnings: readonly string[];
}

/** report.json, with the last; packages/pipeline/schema/report.schema.json describes the same. */
export interface Report extends CheckReport {
  readonly marks: readonly ReportedMark[];
  readonly last: {
    readonly triangles: number;
    readonly volume: number;
    readonly manifold: true;
    readonly allowances: { readonly toeMm: number; readonly topHeightMm: number | null; readonly changes: readonly LastChange[] };
  };
  /** SHA-256 of every file written beside it, by its name; absent in reports that were never written, or by an earlier version. */
  readonly files?: Readonly<Record<string, string>>;
}

export interface StageRecord {
  readonly name: string;
  readonly durationMs: number;
  readonly cached: boolean;
  readonly key: string;
}

export type ReportedMeasurement =
  | { readonly id: string; readonly label: string; readonly value: number; readonly unit: 'mm' | 'deg'; readonly uncertainty: number; readonly on: 'cast' | 'last'; readonly onFilled: number; readonly ends?: readonly [Point, Point] }
  | { readonly id: string; readonly label: string; readonly on: 'cast' | 'last'; readonly absent: string };

export interface ReportedMark {
  readonly id: string;
  readonly kind: MarkKind;
  readonly centre: readonly [number, number, number];
  readonly depth: number;
  readonly area: number;
  readonly length: number;
  readonly width: number;
  readonly decision: MarkDecision;
  readonly why: string;
}

/** What only the host knows. */
export interface ReportContext {
  readonly fileName: string;
  readonly stages: readonly StageRecord[];
  readonly programVersion: string;
  /** What the host has to say: of the scanner. */
  readonly warnings?: readonly string[];
}


const roundedPoint = <P extends Point | null>(p: P): P => (p === null ? p : ([rounded(p[0]), rounded(p[1]), rounded(p[2])] as Point as P));

export function reportMeasurement(m: Measurement): ReportedMeasurement {
  if (!isTaken(m)) return { id: m.id, label: m.label, on: m.on, absent: m.absent };
  return {
    id: m.id, label: m.label, value: rounded(m.value), unit: m.unit, uncertainty: rounded(m.uncertainty), on: m.on, onFilled: rounded(m.onFilled),
    ...(m.ends !== undefined && { ends: [roundedPoint(m.ends[0]), roundedPoint(m.ends[1])] }),
  };
}

export const reportLast = ({ mesh, volume, manifold, allowances: { toeMm, topHeightMm, changes } }: Last): Report['last'] => ({
  triangles: triangleCount(mesh),
  volume: rounded(volume),
  manifold,
  allowances: {
    toeMm,
    topHeightMm,
    changes: changes.map(({ id, label, unit, before, asked, got }) => ({ id, label, unit, before: rounded(before), asked: asked === null ? null : rounded(asked), got: rounded(got) })),
  },
});

/** The report of one cast made into a last, keys in the order of the schema. */
export function buildReport(outcome: CastOutcome, context: ReportContext): Report {
  const { measured, last } = outcome;
  const { rules, stages, program, warnings, ...cast } = buildCheckReport(outcome, context);
  return {
    ...cast,
    measurements: [...cast.measurements, ...last.measurements.map(reportMeasurement)],
    marks: settledMarks(outcome.inspected, measured).map((m) => ({
      id: m.id, kind: m.kind, centre: [rounded(m.centre[0]), rounded(m.centre[1]), rounded(m.centre[2])],
      depth: rounded(m.depth), area: rounded(m.area), length: rounded(m.length), width: rounded(m.width), decision: m.decision, why: m.why,
    })),
    last: reportLast(last),
    rules,
    stages,
    program,
    warnings: [...new Set([...warnings, ...last.warnings])],
  };
}

/** The report of one cast up to the verdict on it, keys in the order of the schema. */
export function buildCheckReport(outcome: CheckOutcome, context: ReportContext): CheckReport {
  const { scan, repaired, shelled, aligned, inspected, smoothed, check, measured, sizes, rules } = outcome;
  const { wall } = shelled;
  return {
    schema: 1,
    scan: {
      file: context.fileName,
      sha256: outcome.inputSha256,
      format: scan.format,
      triangles: scan.trianglesRead,
      unit: scan.unit,
      unitHow: scan.unitHow,
      kind: scan.kind,
      side: aligned.side,
      wallMm: wall === null ? null : rounded(wall.mm),
      wallHow: wall === null ? null : wall.how,
      wallUncertainty: wall === null ? null : rounded(wall.uncertainty),
      repairs: { ...repaired.repairs, areaFilled: rounded(repaired.repairs.areaFilled) },
    },
    transform: Array.from(measured.transform),
    measurements: measured.measurements.map(reportMeasurement),
    sizes: {
      ...sizes,
      exact: { footLength: rounded(sizes.exact.footLength), parisPoint: rounded(sizes.exact.parisPoint), uk: rounded(sizes.exact.uk) },
    },
    casting: outcome.casting,
    castCheck: {
      verdict: check.verdict,
      findings: check.findings.map((f) => ({
        code: f.code, severity: f.severity, value: f.value === null ? null : rounded(f.value), limit: f.limit, unit: f.unit, text: f.text,
        uncertainty: f.uncertainty === null ? null : rounded(f.uncertainty), at: roundedPoint(f.at),
      })),
      readings: check.readings.map((r) => ({
        ...r, value: r.value === null ? null : rounded(r.value), uncertainty: r.uncertainty === null ? null : rounded(r.uncertainty), at: roundedPoint(r.at),
      })),
    },
    rules: { name: rules.name, version: rules.version, sha256: outcome.rulesSha256 },
    stages: context.stages.map((s) => ({ name: s.name, durationMs: s.durationMs, cached: s.cached, key: s.key })),
    program: { version: context.programVersion },
    warnings: [...new Set([...(context.warnings ?? []), ...scan.warnings, ...shelled.warnings, ...aligned.warnings, ...inspected.warnings, ...smoothed.warnings])],
  };
}

import { z } from 'zod';
import { CastError } from '../errors.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import type { ScannerCheck } from './scanner-check.js';
import type { ScannerRules } from '../rules/scanner-rules.js';
import { judgeScanner } from './scanner-verdict.js';
import { rounded, roundedTo } from '../report/rounded.js';

const notNegative = z.number().min(0, 'must not be negative');

const ball = z.strictObject({
  /** In the scan's own coordinates, mm. */
  centreMm: z.tuple([z.number(), z.number(), z.number()]),
  diameterMm: notNegative,
  diameterUncertaintyMm: notNegative,
  sizeErrorMm: z.number(),
  formErrorMm: notNegative,
  form95Mm: notNegative,
  noiseMm: notNegative,
  points: z.int().min(0),
  coverage: z.number().min(0).max(1),
});

const judgement = z.strictObject({
  id: z.enum(['form-error', 'size-error', 'sphere-spacing-error']),
  ball: z.int().min(1).max(2).nullable(),
  valueMm: z.number(),
  limitMm: notNegative,
  within: z.boolean(),
  sure: z.boolean(),
});

/** One check of one scanner. Uncertainties are half-widths of 95 % intervals. */
const storedCheck = z.strictObject({
  date: z.iso.date('must be a date, YYYY-MM-DD'),
  scan: z.strictObject({ file: z.string().min(1), sha256: z.string().regex(/^[0-9a-f]{64}$/), triangles: z.int().min(1), unit: z.enum(['mm', 'cm', 'm', 'in']), unitHow: z.enum(['given', 'inferred']) }),
  gauge: z.strictObject({ diameterMm: notNegative, distanceMm: notNegative.nullable(), uncertaintyMm: notNegative }),
  balls: z.array(ball).min(1).max(2),
  spacing: z.strictObject({ measuredMm: notNegative, errorMm: z.number(), uncertaintyMm: notNegative }).nullable(),
  /** Multiply coordinates of this scanner by the factor. */
  scale: z.strictObject({ factor: notNegative, uncertainty: notNegative, from: z.enum(['spacing', 'diameter']), significant: z.boolean() }),
  /** As judged on that day, by the limits of that day. */
  verdict: z.enum(['within-limits', 'out-of-limits']),
  judgements: z.array(judgement),
  warnings: z.array(z.string()),
  program: z.strictObject({ version: z.string().min(1) }),
});

const record = z.strictObject({
  schema: z.literal(1, { error: 'must be 1; this version of the program knows no other form' }),
  /** The workshop's name for the scanner. */
  scanner: z.string().trim().min(1, 'must not be empty').max(80),
  /** Oldest first. */
  checks: z.array(storedCheck).min(1),
});

/** What is kept of one scanner: every check that was made of it. */
export type ScannerRecord = z.output<typeof record>;
export type StoredScannerCheck = z.output<typeof storedCheck>;

/** The record in a parsed JSON value. Throws CastError `bad-scanner-record` naming the path of every bad key. */
export function parseScannerRecord(json: unknown): ScannerRecord {
  const parsed = record.safeParse(json);
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-scanner-record', 'The scanner record', '`cast-to-last scanner-check … --record FILE` writes one', parsed.error.issues);
}

/** What only the host knows of a check. */
export interface ScannerCheckContext {
  /** YYYY-MM-DD */
  readonly date: string;
  readonly fileName: string;
  readonly sha256: string;
  readonly programVersion: string;
}

/** A check with its verdict, as it is stored. */
export function storeScannerCheck(check: ScannerCheck, rules: ScannerRules, context: ScannerCheckContext): StoredScannerCheck {
  const { verdict, judgements } = judgeScanner(check, rules);
  const { spacing, scale } = check;
  return {
    date: context.date,
    scan: { file: context.fileName, sha256: context.sha256, triangles: check.triangles, unit: check.unit, unitHow: check.unitHow },
    gauge: { ...check.gauge },
    balls: check.balls.map((b) => ({
      centreMm: [rounded(b.centre[0]), rounded(b.centre[1]), rounded(b.centre[2])],
      diameterMm: rounded(b.diameterMm), diameterUncertaintyMm: rounded(b.diameterUncertaintyMm), sizeErrorMm: rounded(b.sizeErrorMm),
      formErrorMm: rounded(b.formErrorMm), form95Mm: rounded(b.form95Mm), noiseMm: rounded(b.noiseMm), points: b.points, coverage: rounded(b.coverage),
    })),
    spacing: spacing === null ? null : { measuredMm: rounded(spacing.measuredMm), errorMm: rounded(spacing.errorMm), uncertaintyMm: rounded(spacing.uncertaintyMm) },
    scale: { ...scale, factor: roundedTo(scale.factor, 7), uncertainty: roundedTo(scale.uncertainty, 7) },
    verdict,
    judgements: judgements.map((j) => ({ ...j, valueMm: rounded(j.valueMm) })),
    warnings: [...check.warnings],
    program: { version: context.programVersion },
  };
}

/**
 * The record with one more check, in the order of the dates.
 *
 * @param name the scanner's; null takes the record's
 * @throws CastError `scanner-name-differs` where the record is that of another scanner
 */
export function addToRecord(before: ScannerRecord | null, name: string | null, check: StoredScannerCheck): ScannerRecord {
  if (before !== null && name !== null && before.scanner !== name) {
    throw new CastError('scanner-name-differs', `The record is that of the scanner "${before.scanner}", not of "${name}".`, 'Name the right record or scanner; every scanner has a record of its own.');
  }
  const checks = [...(before?.checks ?? []), check];
  return { schema: 1, scanner: name ?? before?.scanner ?? 'scanner', checks: checks.map((c, i) => ({ c, i })).sort((a, b) => (a.c.date < b.c.date ? -1 : a.c.date > b.c.date ? 1 : a.i - b.i)).map(({ c }) => c) };
}

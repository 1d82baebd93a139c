import { z } from 'zod';
import { range } from '../number-range.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import { checkRules } from './check-rules.js';
import { lastRules } from './last-rules.js';
import { makingRules } from './making-rules.js';
import { scannerRules } from './scanner-rules.js';

/**
 * The rule set: what a workshop decides once and every cast obeys. A rules file is JSON and may leave out any key; what
 * it leaves out has the value in DEFAULT_RULES. A key that is not listed here, or a value outside its range, is refused.
 */

const point = z.tuple([z.number(), z.number(), z.number()]);

/** Ground on which every mark is kept. */
const protectedGround = z.strictObject({
  /** Foot frame of report.json, mm. */
  centre: point,
  /** mm, 1 to 150 */
  radiusMm: range(1, 150, 'mm'),
  /** Why this ground is protected; the report repeats it. */
  why: z.string().min(1, 'must say why').max(200),
});

const marks = z
  .strictObject({
    /** The least depth of a dent, bump or ridge that is reported, mm, 0.3 to 3. */
    minDepthMm: range(0.3, 3, 'mm').default(0.5),
    /** Marks up to this depth are smoothed, deeper ones asked, mm; from minDepthMm to 20. */
    depthThresholdMm: range(0.3, 20, 'mm').default(4),
    /** A mark nearer than this to a landmark that a measure uses is asked, mm, 0 to 40. */
    landmarkDistanceMm: range(0, 40, 'mm').default(8),
    /** Look for the seam of a cast that was cut open along the top of the foot. */
    findSeam: z.boolean().default(true),
    /** Look for the ridges that bandage edges leave. */
    findRidges: z.boolean().default(true),
    /** Ground on which every mark is kept. */
    protect: z.array(protectedGround).max(100).default([]),
  })
  .refine((m) => m.depthThresholdMm >= m.minDepthMm, { path: ['depthThresholdMm'], message: 'must not be less than marks.minDepthMm' });

const smoothing = z.strictObject({
  /** What becomes of a seam: smoothed, or asked of the maker. */
  seam: z.enum(['smooth', 'ask']).default('smooth'),
  /** What becomes of ridges. */
  ridges: z.enum(['smooth', 'ask']).default('smooth'),
  /** How far the replaced patch reaches beyond the visible mark, mm, 0 to 20; null leaves it to the stage. */
  marginMm: range(0, 20, 'mm').nullable().default(null),
});

const sheet = z.strictObject({
  /** Paper of the measurement sheet. */
  paper: z.enum(['a4', 'letter']).default('a4'),
  /** Language of its words: English or German. */
  language: z.enum(['en', 'de']).default('en'),
  /** Inches beside the millimetres. */
  inches: z.boolean().default(true),
});

/** Before its defaults are filled in. */
export const ruleSet = z.strictObject({
  /** The workshop's name for this rule set. */
  name: z.string().min(1, 'must not be empty').max(80).default('house rules'),
  /** The workshop's version of it. */
  version: z.string().min(1, 'must not be empty').max(40).default('1'),
  marks: marks.prefault({}),
  smoothing: smoothing.prefault({}),
  check: checkRules.prefault({}),
  scanner: scannerRules.prefault({}),
  last: lastRules.prefault({}),
  making: makingRules.prefault({}),
  sheet: sheet.prefault({}),
});

export type RuleSet = z.output<typeof ruleSet>;
export type MarkRules = RuleSet['marks'];
export type SmoothingRules = RuleSet['smoothing'];

export const DEFAULT_RULES: RuleSet = ruleSet.parse({});

/** The rules in a parsed JSON value, defaults filled in. Throws CastError `bad-rules` naming the path of every bad key. */
export function parseRules(json: unknown): RuleSet {
  const parsed = ruleSet.safeParse(json);
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-rules', 'The rules file', '`cast-to-last rules --print-default` prints a complete example', parsed.error.issues);
}

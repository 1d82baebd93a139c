import { z } from 'zod';
import { range } from './number-range.js';
import { refuseBadKeys } from './refuse-bad-keys.js';

/** What the maker decided about one cast, mark by mark. Coordinates are mm in the foot frame of that cast's report.json. */

const point = z.tuple([z.number(), z.number(), z.number()]);
const note = z.string().max(500).optional();

const markDecision = z
  .strictObject({
    /** The mark's id in report.json. */
    id: z.string().min(1).max(40).optional(),
    /** The mark's centre; used where no mark has the id, within DECISION_REACH_MM. */
    centre: point.optional(),
    decision: z.enum(['smooth', 'keep']),
    note,
  })
  .refine((d) => d.id !== undefined || d.centre !== undefined, { path: ['id'], message: 'a decision needs the mark\'s id or its centre' });

const patch = z.strictObject({
  centre: point,
  /** mm, 1 to 60 */
  radiusMm: range(1, 60, 'mm'),
  decision: z.enum(['smooth', 'protect']),
  note,
});

const decisions = z.strictObject({
  /** Decisions on marks that the program found. */
  marks: z.array(markDecision).max(2000).default([]),
  /** Patches that the maker adds: to smooth, or to leave untouched. */
  patches: z.array(patch).max(500).default([]),
});

export type Decisions = z.output<typeof decisions>;

export const NO_DECISIONS: Decisions = { marks: [], patches: [] };

/** How near a decision's centre must be to a mark's to mean that mark, mm. */
export const DECISION_REACH_MM = 6;

/** The decisions in a parsed JSON value. Throws CastError `bad-decisions` naming the path of every bad key. */
export function parseDecisions(json: unknown): Decisions {
  const parsed = decisions.safeParse(json);
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-decisions', 'The decisions file', 'the README shows its form', parsed.error.issues);
}

import type { Point } from '@cast-to-last/foot/landmarks';
import type { Decisions } from '../decisions.js';
import { DECISION_REACH_MM } from '../decisions.js';
import type { AlignedCast, Mark, MarkDecision } from '../records.js';
import type { MarkRules, SmoothingRules } from '../rules/rules.js';
import { groundOf } from './ground.js';
import type { FoundMark } from './found-mark.js';

/** What the rules say of marks: their depth and place, and whether seams and ridges are smoothed at all. */
export interface DecisionRules {
  readonly marks: MarkRules;
  readonly smoothing: Pick<SmoothingRules, 'seam' | 'ridges'>;
}

/** Gives each mark its id and what becomes of it: the maker's word first, then protected ground, then the rules. */
export function decide(found: readonly FoundMark[], cast: AlignedCast, rules: DecisionRules, decisions: Decisions): Mark[] {
  const counts = { dent: 0, bump: 0, ridge: 0, seam: 0 };
  const marks = found.map((mark) => ({ ...mark, id: `${mark.kind}-${++counts[mark.kind]}` }));
  const words = makersWords(marks, decisions);
  return marks.map((mark) => ({ ...mark, ...(words.get(mark.id) ?? proposal(mark, cast, rules)) }));
}

/** On the free toes, where form and mark are of one size, only marks up to this depth are smoothed unasked, mm. */
export const TOES_ASK_FROM = 1.5;

/**
 * On a foot shorter than this, mm, a dent or bump wider than the share of its length is not smoothed unasked: marks are sought at
 * widths of fingers, which heel and ankle bones of a small child have as well. Of sound generated feet brought to 117 to
 * 123 mm, 8 to 10 such places were smoothed, the heel among them.
 */
export const SMALL_FOOT = { length: 180, width: 0.08 } as const;

type NamedMark = Pick<Mark, 'id' | 'centre'>;

type Ruling = { decision: MarkDecision; why: string };

/** The maker's decisions by mark. */
function makersWords(marks: readonly NamedMark[], decisions: Decisions): Map<string, Ruling> {
  const words = new Map<string, Ruling>();
  for (const entry of decisions.marks) {
    const mark = meant(marks, entry);
    if (mark !== undefined) words.set(mark.id, { decision: entry.decision, why: `The maker decided: ${entry.decision}.${entry.note ? ` ${entry.note}` : ''}` });
  }
  return words;
}

/** What the maker has to know of decisions that mean no mark of this cast. */
export function unmetDecisions(marks: readonly NamedMark[], decisions: Decisions): string[] {
  const warnings: string[] = [];
  for (const entry of decisions.marks) {
    const which = entry.id ?? entry.centre?.map((c) => c.toFixed(1)).join(', ');
    if (meant(marks, entry) === undefined) warnings.push(`The decision "${entry.decision}" on ${which} meets no mark of this cast: it did nothing.`);
  }
  return warnings;
}

/** The mark that a decision means: by id where one has it, else by the nearest centre within reach. */
function meant(marks: readonly NamedMark[], { id, centre }: Decisions['marks'][number]): NamedMark | undefined {
  const named = marks.find((m) => m.id === id);
  if (centre === undefined || (named !== undefined && distance(named.centre, centre) <= DECISION_REACH_MM)) return named;
  const near = marks.filter((m) => distance(m.centre, centre) <= DECISION_REACH_MM);
  return near.sort((a, b) => distance(a.centre, centre) - distance(b.centre, centre))[0];
}

function proposal(mark: FoundMark, cast: AlignedCast, { marks: rules, smoothing }: DecisionRules): Ruling {
  for (const ground of rules.protect) {
    if (distance(mark.centre, ground.centre) <= ground.radiusMm) return { decision: 'keep', why: `Protected ground: ${ground.why}` };
  }
  if (mark.kind === 'seam' && smoothing.seam === 'ask') return { decision: 'ask', why: 'The rules leave the seam to the maker.' };
  if (mark.kind === 'ridge' && smoothing.ridges === 'ask') return { decision: 'ask', why: 'The rules leave ridges to the maker.' };
  const depth = Math.abs(mark.depth);
  if (depth > rules.depthThresholdMm) {
    return { decision: 'ask', why: `${depth.toFixed(1)} mm is more than the ${rules.depthThresholdMm} mm up to which the rules smooth.` };
  }
  // A seam or ridge is long: it runs past landmarks without lying on them.
  const near = mark.kind === 'dent' || mark.kind === 'bump' ? nearestLandmark(mark, cast, rules.landmarkDistanceMm) : null;
  if (near !== null) return { decision: 'ask', why: `It lies at the ${near}, which a measure rests on.` };
  if (depth > TOES_ASK_FROM && groundOf(cast.landmarks).onFreeToes(mark.centre)) {
    return { decision: 'ask', why: 'It lies on the toes, where a mark and the form of a toe can look alike.' };
  }
  const { footLength } = cast.landmarks;
  if (footLength < SMALL_FOOT.length && mark.width > SMALL_FOOT.width * footLength && (mark.kind === 'dent' || mark.kind === 'bump')) {
    return { decision: 'ask', why: 'The foot is small: a mark of this width and its own form can look alike.' };
  }
  return { decision: 'smooth', why: `${depth.toFixed(1)} mm is within the ${rules.depthThresholdMm} mm that the rules smooth.` };
}

/** The landmark that a mark's centre is nearer to than `within`, in words. */
function nearestLandmark(mark: FoundMark, cast: AlignedCast, within: number): string | null {
  const { landmarks: l } = cast;
  const named: readonly (readonly [string, Point | null])[] = [
    ['inside ball point', l.medialBall],
    ['outside ball point', l.lateralBall],
    ['rearmost point of the heel', l.pternion],
    ['toe tip', l.toeTip],
    ['instep point', l.instep],
  ];
  for (const [name, point] of named) if (point !== null && distance(mark.centre, point) < within) return name;
  return null;
}

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { lastTapes } from '@cast-to-last/foot/last-girths';
import type { LastRules } from '../rules/last-rules.js';
import { compensateExpansion } from './compensate-expansion.js';
import { easeGirths, isAsked } from './ease-girths.js';
import { tapedSurface } from './ease/taped-surface.js';
import type { LastBody, LastStep } from './last-body.js';
import { resetStance } from './reset-stance.js';
import { shapeSole } from './shape-sole.js';
import { shapeToes } from './shape-toes.js';

/** A shaped body, and the foot that it was made of. */
export interface ShapedLast extends LastStep {
  /** The cast without the plaster's expansion. */
  readonly foot: LastBody;
}

/**
 * The cleaned cast with everything that the rules make of it below its top, in the order of the work. Without any such rule
 * it is the cast itself. Girths are eased last and count from the foot's own, so that what stance and sole do to them is made
 * good, also where no change is asked.
 *
 * @param footbed that the cast was taken on; null where none is known
 * @throws CastError `toes-not-shaped`, `girth-out-of-reach`
 */
export function shapeLast(cast: LastBody, rules: LastRules, footbed: HingedFootbed | null): ShapedLast {
  const made = [compensateExpansion(cast, rules.plasterExpansionPercent)];
  const next = (step: (body: LastBody) => LastStep): void => void made.push(step(made[made.length - 1].body));
  const foot = made[0].body;
  next((body) => resetStance(body, rules.stance, footbed));
  const standing = made[1].body;
  next((body) => shapeToes(body, rules));
  const toed = made[2].body;
  next((body) => shapeSole(body, rules.sole));
  next((body) => {
    // The toes' step leaves all behind the ball line, and with it the girths.
    const moved = standing !== foot || body !== toed;
    const counts = moved || (body !== foot && Object.values(rules.ease).some(isAsked));
    return easeGirths(body, rules.ease, counts ? lastTapes(tapedSurface(foot).felt, foot.landmarks) : undefined);
  });
  return { foot, body: made[made.length - 1].body, changes: made.flatMap((step) => step.changes), warnings: made.flatMap((step) => step.warnings) };
}

import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import type { LastRules } from '../last-rules.js';
import { compensateExpansion } from './compensate-expansion.js';
import { easeGirths } from './ease-girths.js';
import type { LastBody, LastStep } from './last-body.js';
import { resetStance } from './reset-stance.js';
import { shapeSole } from './shape-sole.js';
import { shapeToes } from './shape-toes.js';

/**
 * The cleaned cast with everything that the rules make of it below its top, in the order of the work. Without any such rule
 * it is the cast itself.
 *
 * @param footbed that the cast was taken on; null where none is known
 * @throws CastError `toes-not-shaped`, `girth-out-of-reach`
 */
export function shapeLast(cast: LastBody, rules: LastRules, footbed: HingedFootbed | null): LastStep {
  const steps: readonly ((body: LastBody) => LastStep)[] = [
    (body) => compensateExpansion(body, rules.plasterExpansionPercent),
    (body) => resetStance(body, rules.stance, footbed),
    (body) => shapeToes(body, rules),
    (body) => shapeSole(body, rules.sole),
    (body) => easeGirths(body, rules.ease),
  ];
  let made: LastStep = { body: cast, changes: [], warnings: [] };
  for (const step of steps) {
    const { body, changes, warnings } = step(made.body);
    made = { body, changes: [...made.changes, ...changes], warnings: [...made.warnings, ...warnings] };
  }
  return made;
}

import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { stretchToes } from '@cast-to-last/foot/stretch-toes';
import type { LastRules } from '../last-rules.js';
import { compensateExpansion } from './compensate-expansion.js';
import { easeGirths } from './ease-girths.js';
import type { LastBody, LastStep } from './last-body.js';
import { resetStance } from './reset-stance.js';

/**
 * The cleaned cast with everything that the rules make of it below its top, in the order of the work. Without any such rule
 * it is the cast itself.
 *
 * @param footbed that the cast was taken on; null where none is known
 * @throws CastError `girth-out-of-reach`
 */
export function shapeLast(cast: LastBody, rules: LastRules, footbed: HingedFootbed | null): LastStep {
  const steps: readonly ((body: LastBody) => LastStep)[] = [
    (body) => compensateExpansion(body, rules.plasterExpansionPercent),
    (body) => resetStance(body, rules.stance, footbed),
    (body) => addToeAllowance(body, rules.toeAllowanceMm),
    (body) => easeGirths(body, rules.ease),
  ];
  let made: LastStep = { body: cast, changes: [], warnings: [] };
  for (const step of steps) {
    const { body, changes, warnings } = step(made.body);
    made = { body, changes: [...made.changes, ...changes], warnings: [...made.warnings, ...warnings] };
  }
  return made;
}

function addToeAllowance(body: LastBody, toeAllowanceMm: number): LastStep {
  if (toeAllowanceMm === 0) return { body, changes: [], warnings: [] };
  const { footLength } = body.landmarks;
  const asked = footLength + toeAllowanceMm;
  const mesh = stretchToes(body.mesh, body.landmarks, toeAllowanceMm);
  return { body: { ...body, mesh }, changes: [{ id: 'toe-allowance', label: 'length with toe allowance', unit: 'mm', before: footLength, asked, got: asked }], warnings: [] };
}

import { stretchToes } from '@cast-to-last/foot/stretch-toes';
import type { LastRules } from '../last-rules.js';
import type { LastBody, LastStep } from './last-body.js';

/** The cleaned cast with everything that the rules add to it below its top. Without any such rule it is the cast itself. */
export function shapeLast(cast: LastBody, { toeAllowanceMm }: LastRules): LastStep {
  if (toeAllowanceMm === 0) return { body: cast, changes: [], warnings: [] };
  const { footLength } = cast.landmarks;
  const mesh = stretchToes(cast.mesh, cast.landmarks, toeAllowanceMm);
  const asked = footLength + toeAllowanceMm;
  return { body: { ...cast, mesh }, changes: [{ id: 'toe-allowance', label: 'length with toe allowance', unit: 'mm', before: footLength, asked, got: asked }], warnings: [] };
}

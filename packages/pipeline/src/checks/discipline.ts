import { stanceFor } from '../rules/check-rules.js';
import type { CheckContext, CheckPart } from './check-context.js';

/** Says where the order names a discipline that the rules do not list, so that nobody takes the limits used for its own. */
export function checkDiscipline({ rules, casting: { discipline } }: Pick<CheckContext, 'rules' | 'casting'>): CheckPart {
  const { name } = stanceFor(rules, discipline);
  if (discipline === undefined || discipline === name) return { readings: [], findings: [] };
  const text = `The rules do not list the discipline “${discipline}”; how the leg stands was judged by “${name}”.`;
  return { readings: [], findings: [{ code: 'discipline-not-listed', severity: 'note', value: null, limit: null, unit: '', uncertainty: null, at: null, text }] };
}

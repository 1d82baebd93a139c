import { describe, expect, it } from 'vitest';
import { checkDiscipline } from '@cast-to-last/pipeline/checks/discipline';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { verdictOf } from '@cast-to-last/pipeline/stages/check-cast';

const rules = parseRules({ check: { disciplines: { 'fencing-type': {} } } }).check;

describe('the discipline of an order', () => {
  it('is no finding where the rules list it, or where the order names none', () => {
    for (const discipline of [undefined, 'skating-type', 'cycling-type', 'other', 'fencing-type']) {
      expect(checkDiscipline({ rules, casting: { discipline } }), String(discipline)).toEqual({ readings: [], findings: [] });
    }
  });

  it('is a note that names it and the limits used where the rules do not list it; the cast stays usable', () => {
    const { findings } = checkDiscipline({ rules, casting: { discipline: 'curling' } });
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ code: 'discipline-not-listed', severity: 'note' });
    expect(findings[0].text).toMatch(/“curling”.*“other”/);
    expect(verdictOf(findings)).toBe('usable');
  });
});

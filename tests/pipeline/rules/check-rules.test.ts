import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stanceFor } from '@cast-to-last/pipeline/rules/check-rules';
import { CastError } from '@cast-to-last/pipeline/errors';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';

const BANDS = ['soleBend', 'heelOnPlate', 'ballOnHinge', 'forefootTwist', 'soleFlatness', 'beyondToes', 'closing', 'cutStep', 'madeUp'] as const;
const { check } = DEFAULT_RULES;

function refusal(json: unknown): string {
  try {
    parseRules({ check: json });
  } catch (error) {
    if (error instanceof CastError) return `${error.code}: ${error.message}`;
    throw error;
  }
  return 'accepted';
}

describe('the limits of the cast check', () => {
  it('ask for care before they ask for a new cast', () => {
    for (const key of BANDS) expect(check[key].recast, key).toBeGreaterThan(check[key].care);
    for (const { forwardLean, rearView } of Object.values(check.disciplines)) {
      expect(forwardLean.recast).toBeGreaterThan(forwardLean.care);
      expect(rearView.recast).toBeGreaterThan(rearView.care);
    }
    // The other way round: less breadth is worse.
    expect(check.toeBox.recast).toBeLessThan(check.toeBox.care);
  });

  it('want a slight lean, more for skating-type footwear, an upright rear view, and 25 mm above the ankle bone (common practice, no source)', () => {
    const lean = (name: 'cycling-type' | 'skating-type' | 'other'): number => check.disciplines[name].forwardLeanDeg;
    expect(lean('cycling-type')).toBeGreaterThan(0);
    expect(lean('skating-type')).toBeGreaterThan(lean('cycling-type'));
    for (const { rearViewDeg } of Object.values(check.disciplines)) expect(rearViewDeg).toBe(0);
    expect(check.aboveAnkleMm).toBe(25);
  });

  it('believe a ply of 0.3 to 0.6 mm (from memory) and a left-right difference of about 6 mm in length (computed from SATRA 2018, second-hand)', () => {
    expect(check.plyMm).toBeGreaterThanOrEqual(0.3);
    expect(check.plyMm).toBeLessThanOrEqual(0.6);
    expect(check.pair.lengthMm).toBe(6);
  });

  it('keep what the file says and fill in the rest, a new discipline from that of `other`', () => {
    const read = parseRules({ check: { soleBend: { care: 1 }, disciplines: { 'fencing-type': { forwardLeanDeg: 5 } }, pair: { girthMm: 9 } } }).check;
    expect(read.soleBend).toEqual({ care: 1, recast: check.soleBend.recast });
    expect(read.disciplines['fencing-type']).toEqual({ ...check.disciplines.other, forwardLeanDeg: 5 });
    expect(read.disciplines['skating-type']).toEqual(check.disciplines['skating-type']);
    expect(read.pair).toEqual({ ...check.pair, girthMm: 9 });
    expect(parseRules({ check: {} }).check).toEqual(check);
  });

  it('may be equal for care and a new cast, and may be 0', () => {
    for (const key of BANDS) expect(refusal({ [key]: { care: 2, recast: 2 } }), key).toBe('accepted');
    expect(refusal({ soleBend: { care: 0 } })).toBe('accepted');
    expect(refusal({ toeBox: { care: 0.7, recast: 0.7 } })).toBe('accepted');
  });

  it.each([
    [{ soleBent: {} }, 'check.soleBent'],
    [{ aboveAnkleMm: -1 }, 'check.aboveAnkleMm'],
    [{ aboveAnkleMm: 151 }, 'check.aboveAnkleMm'],
    [{ soleBend: 3 }, 'check.soleBend'],
    [{ soleBend: { care: 6 } }, 'check.soleBend.recast'],
    [{ soleBend: { care: -1 } }, 'check.soleBend.care'],
    [{ soleBend: { recast: 46 } }, 'check.soleBend.recast'],
    [{ soleBend: { care: '3' } }, 'check.soleBend.care'],
    [{ soleBend: { warn: 3 } }, 'check.soleBend.warn'],
    [{ ballOnHinge: { care: Number.NaN } }, 'check.ballOnHinge.care'],
    [{ toeBox: { recast: 0.9 } }, 'check.toeBox.recast'],
    [{ toeBox: { care: 0.2 } }, 'check.toeBox.care'],
    [{ beyondToes: { recast: 151 } }, 'check.beyondToes.recast'],
    [{ closing: { care: 7, recast: 6.5 } }, 'check.closing.recast'],
    [{ madeUp: { recast: 101 } }, 'check.madeUp.recast'],
    [{ tapePercent: 0.4 }, 'check.tapePercent'],
    [{ plyMm: 0 }, 'check.plyMm'],
    [{ pair: { lengthMm: 0.4 } }, 'check.pair.lengthMm'],
    [{ pair: { widthMm: 4 } }, 'check.pair.widthMm'],
    [{ disciplines: { 'skating-type': { forwardLeanDeg: 31 } } }, 'check.disciplines.skating-type.forwardLeanDeg'],
    [{ disciplines: { 'skating-type': { leanDeg: 3 } } }, 'check.disciplines.skating-type.leanDeg'],
    [{ disciplines: { 'fencing-type': { rearViewDeg: 21 } } }, 'check.disciplines.fencing-type.rearViewDeg'],
    [{ disciplines: { other: { rearView: { care: 8 } } } }, 'check.disciplines.other.rearView.recast'],
    [{ disciplines: { other: null } }, 'check.disciplines.other'],
    [{ disciplines: [] }, 'check.disciplines'],
    [{ disciplines: { '': {} } }, 'check.disciplines'],
  ])('refuse %j and name %s', (json, path) => {
    expect(refusal(json)).toMatch(/^bad-rules: /);
    expect(refusal(json)).toContain(`${path}: `);
  });
});

describe('stanceFor', () => {
  it('is that of the discipline which the order names', () => {
    expect(stanceFor(check, 'skating-type')).toEqual({ name: 'skating-type', stance: check.disciplines['skating-type'] });
    const own = parseRules({ check: { disciplines: { 'fencing-type': { forwardLeanDeg: 5 } } } }).check;
    expect(stanceFor(own, 'fencing-type').stance.forwardLeanDeg).toBe(5);
  });

  it('is `other` for none and for every name that the rules do not list (seed 7)', () => {
    for (const name of [undefined, 'fencing-type', 'constructor', '__proto__', 'toString', 'Skating-Type']) {
      expect(stanceFor(check, name), String(name)).toEqual({ name: 'other', stance: check.disciplines.other });
    }
    fc.assert(
      fc.property(fc.string(), (name) => {
        expect(stanceFor(check, name).stance.rearView.care).toBeGreaterThan(0);
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});

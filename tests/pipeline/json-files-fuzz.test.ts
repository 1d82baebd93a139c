import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecisions } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';

const SEED = 20260317;
const readers = [['rules', parseRules, 'bad-rules'], ['decisions', parseDecisions, 'bad-decisions'], ['order', parseOrder, 'bad-order']] as const;

/** The default rules with one value, somewhere, replaced by any JSON value. */
const spoiltRules = fc
  .tuple(fc.constantFrom('marks', 'smoothing', 'check', 'last', 'sheet'), fc.nat(), fc.jsonValue())
  .map(([section, pick, value]) => {
    const json = JSON.parse(JSON.stringify(DEFAULT_RULES));
    const keys = Object.keys(json[section]);
    json[section][keys[pick % keys.length]] = value;
    return json;
  });

describe.each(readers)(`any JSON value read as %s (seed ${SEED})`, (_, parse, code) => {
  it('is taken, or refused with its code and a remedy, and nothing else happens', () => {
    fc.assert(
      fc.property(fc.oneof(fc.jsonValue(), spoiltRules), (json) => {
        try {
          parse(json);
        } catch (error) {
          expect(error).toBeInstanceOf(CastError);
          expect((error as CastError).code).toBe(code);
          expect((error as CastError).remedy).not.toBe('');
          expect((error as CastError).message.length).toBeLessThan(4000);
        }
      }),
      { seed: SEED, numRuns: 400 },
    );
  });
});

describe(`rules that are taken (seed ${SEED})`, () => {
  it('are taken again unchanged, and hold only finite numbers in range', () => {
    fc.assert(
      fc.property(spoiltRules, (json) => {
        let rules;
        try {
          rules = parseRules(json);
        } catch {
          return;
        }
        expect(parseRules(JSON.parse(JSON.stringify(rules)))).toEqual(rules);
        expect(rules.marks.depthThresholdMm).toBeGreaterThanOrEqual(rules.marks.minDepthMm);
        expect(rules.last.toeAllowanceMm).toBeGreaterThanOrEqual(0);
        expect(rules.last.toeAllowanceMm).toBeLessThanOrEqual(30);
      }),
      { seed: SEED, numRuns: 400 },
    );
  });
});

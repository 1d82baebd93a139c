import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';

describe('parseDecisions', () => {
  it('takes an empty file as no decisions', () => {
    expect(parseDecisions({})).toEqual(NO_DECISIONS);
  });

  it('keeps marks by id or by centre, and patches', () => {
    const json = {
      marks: [{ id: 'm3', decision: 'keep', note: 'callus, wanted' }, { centre: [120, -30, 40], decision: 'smooth' }],
      patches: [{ centre: [60, 0, 30], radiusMm: 12, decision: 'protect' }, { centre: [90, 5, 60], radiusMm: 8, decision: 'smooth', note: 'thumb' }],
    };
    expect(parseDecisions(json)).toEqual(json);
  });

  it.each([
    [{ marks: [{ decision: 'keep' }] }, 'marks[0].id'],
    [{ marks: [{ id: 'm1', decision: 'ask' }] }, 'marks[0].decision'],
    [{ marks: [{ id: 'm1', decision: 'keep', why: 'x' }] }, 'marks[0].why'],
    [{ marks: [{ centre: [1, 2, null], decision: 'keep' }] }, 'marks[0].centre[2]'],
    [{ patches: [{ centre: [1, 2, 3], radiusMm: 61, decision: 'smooth' }] }, 'patches[0].radiusMm'],
    [{ patches: [{ centre: [1, 2, 3], radiusMm: 6, decision: 'keep' }] }, 'patches[0].decision'],
    [{ patch: [] }, 'patch'],
    [null, 'the file itself'],
  ])('refuses %j and names %s', (json, path) => {
    expect(() => parseDecisions(json)).toThrow(CastError);
    try {
      parseDecisions(json);
    } catch (error) {
      expect((error as CastError).code).toBe('bad-decisions');
      expect((error as CastError).message).toContain(`${path}: `);
    }
  });
});

import { describe, expect, it } from 'vitest';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { decide, unmetDecisions } from '@cast-to-last/pipeline/marks/decide';
import type { AlignedCast, Mark } from '@cast-to-last/pipeline/records';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { FoundMark } from '@cast-to-last/pipeline/marks/found-mark';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';

const aligned: AlignedCast = handMadeOutcome().aligned;
const { medialBall } = aligned.landmarks;

const mark = (kind: FoundMark['kind'], depth: number, centre: readonly [number, number, number] = [100, 0, 60]): FoundMark => ({
  kind, depth, centre, area: 100, length: 14, width: 12, vertices: new Uint32Array([0]), centreVertex: 0, margin: 6,
});

const rulingOf = (found: FoundMark, rules: unknown = {}, decisions = NO_DECISIONS): Mark => decide([found], aligned, parseRules(rules), decisions)[0];

describe('what becomes of a mark', () => {
  it.each([
    ['dent', -3.9, 'smooth'], ['dent', -4.1, 'ask'], ['bump', 3.9, 'smooth'], ['bump', 4.1, 'ask'],
    ['ridge', 2, 'smooth'], ['ridge', 4.1, 'ask'], ['seam', 2, 'smooth'], ['seam', -4.1, 'ask'],
  ] as const)('a %s of %d mm under the default threshold of 4 mm: %s', (kind, depth, decision) => {
    const ruling = rulingOf(mark(kind, depth));
    expect(ruling.decision).toBe(decision);
    expect(ruling.why).toContain(`${Math.abs(depth).toFixed(1)} mm is ${decision === 'ask' ? 'more than' : 'within'} the 4 mm`);
  });

  it.each([
    ['seam', { smoothing: { seam: 'ask' } }, 'ask'], ['ridge', { smoothing: { seam: 'ask' } }, 'smooth'], ['dent', { smoothing: { seam: 'ask' } }, 'smooth'],
    ['ridge', { smoothing: { ridges: 'ask' } }, 'ask'], ['seam', { smoothing: { ridges: 'ask' } }, 'smooth'], ['bump', { smoothing: { ridges: 'ask' } }, 'smooth'],
  ] as const)('a %s under %j: %s', (kind, rules, decision) => {
    expect(rulingOf(mark(kind, 1), rules).decision).toBe(decision);
  });

  it('asks about a dent at a landmark, not about a ridge that runs past it', () => {
    const beside = [medialBall[0] + 5, medialBall[1], medialBall[2]] as const;
    expect(rulingOf(mark('dent', -1, beside))).toMatchObject({ decision: 'ask', why: expect.stringContaining('inside ball point') });
    expect(rulingOf(mark('dent', -1, beside), { marks: { landmarkDistanceMm: 4 } }).decision).toBe('smooth');
    expect(rulingOf(mark('ridge', 1, beside)).decision).toBe('smooth');
  });

  it('asks about wide dents and bumps of a small foot, which its heel and ankle bones look like', () => {
    const small: AlignedCast = { ...aligned, landmarks: { ...aligned.landmarks, footLength: 120 } };
    const on = (found: FoundMark): Mark => decide([found], small, parseRules({}), NO_DECISIONS)[0];
    expect(on(mark('dent', -1))).toMatchObject({ decision: 'ask', why: expect.stringContaining('The foot is small') });
    expect(on({ ...mark('dent', -1), width: 9 }).decision).toBe('smooth');
    expect(on(mark('ridge', 1)).decision).toBe('smooth');
    expect(rulingOf({ ...mark('dent', -1), width: 25 }).decision).toBe('smooth');
  });

  it('keeps what lies on protected ground, whatever else the rules say', () => {
    const protect = [{ centre: [102, 0, 60], radiusMm: 5, why: 'bunion' }];
    const rules = { marks: { protect }, smoothing: { seam: 'ask' } };
    expect(rulingOf(mark('seam', 9), rules)).toMatchObject({ decision: 'keep', why: 'Protected ground: bunion' });
    expect(rulingOf(mark('dent', -1, [110, 0, 60]), rules).decision).toBe('smooth');
  });

  it("puts the maker's word first, by id or by the nearest centre within reach", () => {
    const byId = parseDecisions({ marks: [{ id: 'seam-1', decision: 'smooth' }] });
    expect(rulingOf(mark('seam', 9), { smoothing: { seam: 'ask' } }, byId).decision).toBe('smooth');
    const byPlace = parseDecisions({ marks: [{ centre: [103, 0, 60], decision: 'keep', note: 'callus' }] });
    expect(rulingOf(mark('dent', -1), {}, byPlace)).toMatchObject({ decision: 'keep', why: expect.stringContaining('callus') });
    expect(rulingOf(mark('dent', -1, [120, 0, 60]), {}, byPlace).decision).toBe('smooth');
  });

  it('tells of decisions that mean none: an id that there is not, a place with nothing within reach, an id whose mark lies elsewhere', () => {
    const marks = decide([mark('dent', -1), mark('dent', -1, [150, 0, 60])], aligned, parseRules({}), NO_DECISIONS);
    const met = [{ id: 'dent-1', decision: 'keep' }, { centre: [103, 0, 60], decision: 'smooth' }, { id: 'dent-9', centre: [149, 0, 60], decision: 'keep' }];
    expect(unmetDecisions(marks, parseDecisions({ marks: met }))).toEqual([]);
    const unmet = [{ id: 'dent-9', decision: 'smooth' }, { centre: [142, -31.5, 22], decision: 'keep' }, { id: 'dent-1', centre: [130, 0, 60], decision: 'keep' }];
    expect(unmetDecisions(marks, parseDecisions({ marks: unmet }))).toEqual([
      'The decision "smooth" on dent-9 meets no mark of this cast: it did nothing.',
      'The decision "keep" on 142.0, -31.5, 22.0 meets no mark of this cast: it did nothing.',
      'The decision "keep" on dent-1 meets no mark of this cast: it did nothing.',
    ]);
  });

  it('counts ids by kind', () => {
    const found = [mark('dent', -1), mark('bump', 1, [50, 0, 60]), mark('dent', -1, [70, 0, 60])];
    expect(decide(found, aligned, parseRules({}), NO_DECISIONS).map((m) => m.id)).toEqual(['dent-1', 'bump-1', 'dent-2']);
  });
});

import { describe, expect, it } from 'vitest';
import { decide } from '@cast-to-last/pipeline/marks/decide';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import type { AlignedCast, Mark, MarkKind } from '@cast-to-last/pipeline/records';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';

const landmarks: AlignedCast['landmarks'] = {
  footLength: 260,
  pternion: [0, 0, 20],
  toeTip: [260, 10, 15],
  heelCentre: [42, 0, 0],
  ballCentre: [175, 0, 0],
  medialBall: [190, 45, 25],
  lateralBall: [160, -45, 15],
  instep: [130, 5, 70],
  waist: [150, 5, 60],
  crook: [95, 0, 85],
  heelCorner: [8, 0, 6],
};
const nothing = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
const cast: AlignedCast = { mesh: nothing, opening: null, filled: new Uint8Array(0), side: 'right', transform: new Float64Array(16), landmarks, warnings: [] };

type Found = Parameters<typeof decide>[0][number];
const found = (kind: MarkKind, depth: number, centre: Found['centre'] = [70, -35, 40]): Found => ({
  kind, depth, centre, area: 80, length: 12, width: 10, vertices: new Uint32Array([1, 2, 3]), centreVertex: 2, margin: 4,
});

const decided = (marks: readonly Found[], rules: unknown = {}, decisions: unknown = NO_DECISIONS): Mark[] => decide(marks, cast, parseRules(rules), parseDecisions(decisions));
const verdicts = (...args: Parameters<typeof decided>): string[] => decided(...args).map((m) => m.decision);

describe('limits of what is smoothed unasked', () => {
  it.each([['dent', -1], ['bump', 1]] as const)('smooths a %s up to the rules\' depth and asks beyond it, by the size and not the sign', (kind, sign) => {
    const marks = [2.9, 3, 3.1, 8].map((d) => found(kind, sign * d));
    expect(verdicts(marks, { marks: { depthThresholdMm: 3 } })).toEqual(['smooth', 'smooth', 'ask', 'ask']);
    expect(verdicts(marks, { marks: { depthThresholdMm: 20 } })).toEqual(['smooth', 'smooth', 'smooth', 'smooth']);
  });

  it.each(['medialBall', 'lateralBall', 'pternion', 'toeTip', 'instep'] as const)('asks about a dent near the landmark %s, as near as the rules say', (name) => {
    const [x, y, z] = landmarks[name] as readonly [number, number, number];
    const at = (d: number): Found => found('dent', -1, [x, y, z + d]);
    expect(verdicts([at(0), at(7.9), at(8.1)])).toEqual(['ask', 'ask', 'smooth']);
    expect(verdicts([at(0), at(2.9), at(3.1)], { marks: { landmarkDistanceMm: 3 } })).toEqual(['ask', 'ask', 'smooth']);
    expect(verdicts([at(0)], { marks: { landmarkDistanceMm: 0 } })).toEqual(['smooth']);
  });

  it('does not miss a landmark that the cast has not', () => {
    const short = { ...cast, landmarks: { ...landmarks, instep: null } };
    expect(decide([found('dent', -1, [130, 5, 70])], short, parseRules({}), NO_DECISIONS)[0].decision).toBe('smooth');
  });

  it('keeps what lies on protected ground, whatever its kind and depth, and says why', () => {
    const rules = { marks: { protect: [{ centre: [70, -35, 30], radiusMm: 12, why: 'ulcer, healed in spring' }] } };
    const marks = decided([found('dent', -1), found('bump', 9), found('seam', 1), found('dent', -1, [70, -35, 43])], rules);
    expect(marks.map((m) => m.decision)).toEqual(['keep', 'keep', 'keep', 'smooth']);
    expect(marks[0].why).toContain('ulcer, healed in spring');
  });
});

describe('the maker\'s word', () => {
  const marks = [found('dent', -9), found('dent', -1, [100, -30, 30]), found('bump', 1, [100, 30, 30])];

  it('goes by id, before depth and protected ground, and is repeated', () => {
    const rules = { marks: { protect: [{ centre: [100, 30, 30], radiusMm: 12, why: 'scar' }] } };
    const words = { marks: [{ id: 'dent-1', decision: 'smooth' }, { id: 'bump-1', decision: 'smooth', note: 'seen by hand' }, { id: 'dent-2', decision: 'keep' }] };
    const out = decided(marks, rules, words);
    expect(out.map((m) => m.decision)).toEqual(['smooth', 'keep', 'smooth']);
    expect(out[2].why).toContain('seen by hand');
  });

  it('goes by the nearest centre within 6 mm where there is no id, or where the id is unknown or now means another place', () => {
    const by = (entry: object): string[] => verdicts(marks, {}, { marks: [{ decision: 'keep', ...entry }] });
    const untouched = ['ask', 'smooth', 'smooth'];
    expect(by({ centre: [100, -30, 35.9] })).toEqual(['ask', 'keep', 'smooth']);
    expect(by({ centre: [100, -30, 36.1] })).toEqual(untouched);
    expect(by({ id: 'dent-9', centre: [100, 31, 30] })).toEqual(['ask', 'smooth', 'keep']);
    expect(by({ id: 'dent-1', centre: [100, -31, 30] })).toEqual(['ask', 'keep', 'smooth']);
    expect(by({ id: 'dent-9' })).toEqual(untouched);
    const close = [found('dent', -1, [100, -30, 30]), found('dent', -1, [104, -30, 30])];
    expect(verdicts(close, {}, { marks: [{ centre: [103, -30, 30], decision: 'keep' }] })).toEqual(['smooth', 'keep']);
  });
});

import { describe, expect, it } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';

function refusal(json: unknown): CastError {
  try {
    parseRules(json);
  } catch (error) {
    if (error instanceof CastError) return error;
    throw error;
  }
  throw new Error(`accepted ${JSON.stringify(json)}`);
}

describe('parseRules', () => {
  it('gives the defaults for an empty file, and takes its own defaults back unchanged', () => {
    expect(parseRules({})).toEqual(DEFAULT_RULES);
    expect(parseRules(JSON.parse(JSON.stringify(DEFAULT_RULES)))).toEqual(DEFAULT_RULES);
  });

  it('keeps what the file says and fills in the rest', () => {
    const rules = parseRules({ name: 'walking boots', marks: { depthThresholdMm: 2.5 }, last: { toeAllowanceMm: 12 } });
    expect(rules.name).toBe('walking boots');
    expect(rules.marks.depthThresholdMm).toBe(2.5);
    expect(rules.marks.minDepthMm).toBe(DEFAULT_RULES.marks.minDepthMm);
    expect(rules.last).toEqual({ ...DEFAULT_RULES.last, toeAllowanceMm: 12 });
  });

  it('takes values on the edges of their ranges', () => {
    for (const marks of [{ minDepthMm: 0.3 }, { minDepthMm: 3, depthThresholdMm: 3 }, { landmarkDistanceMm: 0 }]) {
      expect(parseRules({ marks }).marks).toMatchObject(marks);
    }
    for (const last of [{ toeAllowanceMm: 30 }, { topHeightMm: 40 }, { topHeightMm: 300 }]) {
      expect(parseRules({ last }).last).toMatchObject(last);
    }
  });

  it.each([
    [{ markz: {} }, 'markz'],
    [{ marks: { minDepth: 1 } }, 'marks.minDepth'],
    [{ marks: { minDepthMm: 0.29 } }, 'marks.minDepthMm'],
    [{ marks: { minDepthMm: 3.01 } }, 'marks.minDepthMm'],
    [{ marks: { minDepthMm: '0.5' } }, 'marks.minDepthMm'],
    [{ marks: { minDepthMm: Number.NaN } }, 'marks.minDepthMm'],
    [{ marks: { minDepthMm: 2, depthThresholdMm: 1 } }, 'marks.depthThresholdMm'],
    [{ marks: { landmarkDistanceMm: Infinity } }, 'marks.landmarkDistanceMm'],
    [{ marks: { findSeam: 'yes' } }, 'marks.findSeam'],
    [{ marks: { protect: [{ centre: [1, 2, 3], radiusMm: 10, why: 'scar' }, { centre: [1, 2], radiusMm: 10, why: 'scar' }] } }, 'marks.protect[1].centre'],
    [{ marks: { protect: [{ centre: [1, 2, 3], radiusMm: 0, why: 'scar' }] } }, 'marks.protect[0].radiusMm'],
    [{ marks: { protect: [{ centre: [1, 2, 3], radiusMm: 9 }] } }, 'marks.protect[0].why'],
    [{ smoothing: { seam: 'keep' } }, 'smoothing.seam'],
    [{ smoothing: { marginMm: -1 } }, 'smoothing.marginMm'],
    [{ last: { toeAllowanceMm: 31 } }, 'last.toeAllowanceMm'],
    [{ last: { topHeightMm: 39 } }, 'last.topHeightMm'],
    [{ sheet: { paper: 'a5' } }, 'sheet.paper'],
    [{ name: '' }, 'name'],
    [{ marks: null }, 'marks'],
    [[], 'the file itself'],
    [null, 'the file itself'],
    ['rules', 'the file itself'],
  ])('refuses %j and names %s', (json, path) => {
    const error = refusal(json);
    expect(error.code).toBe('bad-rules');
    expect(error.message).toContain(`${path}: `);
    expect(error.remedy.length).toBeGreaterThan(10);
  });

  it('names every bad key of a file at once, and cuts a long list', () => {
    expect(refusal({ a: 1, last: { b: 2 } }).message).toMatch(/last\.b: no such key.*a: no such key|a: no such key.*last\.b: no such key/);
    const many = Object.fromEntries(Array.from({ length: 30 }, (_, i) => [`key${i}`, i]));
    expect(refusal(many).message).toContain('and 22 more');
  });
});

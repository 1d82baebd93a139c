import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compareCasts } from '@cast-to-last/pipeline/pair/compare-casts';
import type { ComparedCast } from '@cast-to-last/pipeline/pair/compared-cast';
import { comparedScan, comparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { deviationGlb } from '@cast-to-last/pipeline/pair/deviation-glb';
import { mirrored } from '@cast-to-last/pipeline/pair/register-casts';
import type { PairFinding } from '@cast-to-last/pipeline/pair/pair-findings';
import type { ComparedResult } from '@cast-to-last/pipeline/pair/parse-result';
import { withPair } from '@cast-to-last/pipeline/pair/with-pair';
import type { Finding, Reading } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { noisy } from '../../support/disturb.js';
import { cutAway, footBlob } from '../../support/foot-blob.js';
import { compareFaults } from '../../support/report-schema.js';
import { rng } from '../../support/rng.js';

const rules = DEFAULT_RULES.check;
const body = cutAway(footBlob(5), (_x, _y, z) => z > 130);

const measure = (id: string, value: number, uncertainty = 0.3) => ({ id, label: id.replaceAll('-', ' '), value, unit: 'mm', uncertainty, on: 'cast', onFilled: 0 }) as const;
const reading = (id: string, value: number | null, wanted: number | null, uncertainty = 0.6): Reading => ({
  id, label: id.replaceAll('-', ' '), value, uncertainty, unit: 'deg', wanted, care: 2.5, recast: 5, why: '', at: null,
});
const finding = (code: string): Finding => ({ code, severity: 'care', value: 1, limit: 0.5, unit: 'mm', uncertainty: null, at: null, text: `About ${code}.` });

interface Parts {
  readonly side?: 'left' | 'right';
  readonly load?: ComparedCast['load'];
  readonly measures?: ComparedCast['measurements'];
  readonly readings?: readonly Reading[];
  readonly findings?: readonly Finding[];
  readonly mesh?: Mesh;
}

function cast({ side = 'right', load, measures = [], readings = [], findings = [], mesh }: Parts): ComparedCast {
  const own = mesh ?? body;
  return {
    name: `the ${side} cast`, side, load, measurements: [measure('foot-length', 260), ...measures],
    check: { verdict: 'usable', findings, readings }, mesh: side === 'left' ? mirrored(own) : own,
  };
}

const coarse = cutAway(footBlob(3), (_x, _y, z) => z > 130);
const found = (first: Parts, second: Parts): PairFinding[] => [...compareCasts(cast({ side: 'left', mesh: coarse, ...first }), cast({ mesh: coarse, ...second }), rules).findings];

describe('a foot and its mirror image', () => {
  const { relation, registration, map, findings, laid } = compareCasts(cast({ side: 'left' }), cast({ mesh: noisy(body, 0.05, rng(131)) }), rules);

  it('lie on each other: within 0.2 mm RMS, a median of nothing in every region, no finding', () => {
    expect(relation).toBe('other-side');
    expect(registration.mirrored).toBe(true);
    const away = laid.positions.reduce((sum, c, i) => sum + (c - body.positions[i]) ** 2, 0);
    expect(Math.sqrt((3 * away) / laid.positions.length)).toBeLessThan(0.2);
    expect(map.regions.map((r) => r.region)).toEqual(['toes', 'ball', 'midfoot', 'heel', 'leg']);
    for (const part of map.regions) {
      expect(Math.abs(part.median)).toBeLessThan(0.05);
      expect(part.p95).toBeLessThan(0.25);
    }
    expect(findings).toEqual([]);
  });

  it('were compared up to just below the lower of both tops, and nowhere above', () => {
    expect(map.upTo).toBeGreaterThan(105);
    expect(map.upTo).toBeLessThan(128);
    for (let v = 0; v < map.deviation.length; v++) expect(Number.isNaN(map.deviation[v]) || laid.positions[3 * v + 2] <= map.upTo).toBe(true);
    expect(map.overall?.area).toBeGreaterThan(40_000);
  });

  it('make a coloured map with the numbers in it', () => {
    const glb = deviationGlb({ relation, registration, map, findings, laid, measures: [], readings: [] }, body);
    const length = new DataView(glb.buffer).getUint32(12, true);
    const { nodes, meshes } = JSON.parse(new TextDecoder().decode(glb.subarray(20, 20 + length)));
    expect(nodes.map((n: { name: string }) => n.name)).toEqual(['first', 'second']);
    expect(nodes[0].extras).toMatchObject({ mirrored: true, overall: { medianMm: expect.any(Number) }, regions: [{ region: 'toes' }, {}, {}, {}, {}] });
    expect(meshes[0].primitives[0].attributes).toHaveProperty('COLOR_0');
    expect(meshes[1].primitives[0].attributes).not.toHaveProperty('COLOR_0');
  });
});

it('a planted difference of the surface shows in its region alone, with its sign', () => {
  const p = body.positions.slice();
  // Upper side of the ball 3 mm higher on the first cast.
  for (let i = 0; i < p.length; i += 3) if (p[i] > 165 && p[i] < 205 && p[i + 2] > 15) p[i + 2] += 3;
  const { map } = compareCasts(cast({ side: 'left', mesh: { positions: p, triangles: body.triangles } }), cast({}), rules);
  const of = (region: string) => map.regions.find((r) => r.region === region)!;
  expect(of('ball').p95).toBeGreaterThan(2.5);
  expect(of('ball').p95).toBeLessThan(3.3);
  for (const region of ['toes', 'heel', 'leg']) expect(of(region).p95).toBeLessThan(0.3);
  const highest = map.deviation.reduce((most, d) => (d > most ? d : most), 0);
  expect(highest).toBeGreaterThan(2.5);
});

describe('findings on a pair', () => {
  it('come beyond the limits of the rules, and not at them', () => {
    expect(found({ measures: [measure('ball-girth', 250)] }, { measures: [measure('ball-girth', 242)] })).toEqual([]);
    expect(found({ measures: [measure('ball-girth', 250)] }, { measures: [measure('ball-girth', 241.2)] })).toMatchObject([
      { code: 'pair-ball-girth', severity: 'care', limit: 8, unit: 'mm', suspect: null, text: expect.stringContaining('cannot be told') },
    ]);
    expect(found({ measures: [measure('heel-width', 90)] }, { measures: [measure('heel-width', 60)] })).toEqual([]);
  });

  it('are notes where the uncertainty reaches back over the limit', () => {
    expect(found({ readings: [reading('sole-bend', 9, null, 2)] }, { readings: [reading('sole-bend', 5, null, 1)] })).toMatchObject([{ code: 'pair-sole-bend', severity: 'note' }]);
    expect(found({ readings: [reading('sole-bend', 9, null)] }, { readings: [reading('sole-bend', 5, null)] })).toMatchObject([{ code: 'pair-sole-bend', severity: 'care' }]);
  });

  it('name the cast that is further from what was wanted, and none where both are as far', () => {
    expect(found({ readings: [reading('forward-lean', 3.2, 3)] }, { readings: [reading('forward-lean', 9.2, 3)] })).toMatchObject([
      { code: 'pair-forward-lean', suspect: 'second', text: expect.stringContaining('The right cast looks wrong: it is 6.2° from what was wanted, the other 0.2°') },
    ]);
    expect(found({ readings: [reading('rear-view', -3, 0)] }, { readings: [reading('rear-view', 3, 0)] })).toMatchObject([{ code: 'pair-rear-view', suspect: null }]);
  });

  it('leave out a difference that was wanted: other footbeds', () => {
    expect(found({ readings: [reading('sole-bend', 12, 12)] }, { readings: [reading('sole-bend', 4, 4)] })).toEqual([]);
    expect(found({ readings: [reading('sole-bend', 12, 12)] }, { readings: [reading('sole-bend', 12, 4)] })).toMatchObject([{ code: 'pair-sole-bend', value: 0, suspect: 'second' }]);
  });

  it('name the cast that has findings of its own in the matter', () => {
    const girths = [{ measures: [measure('instep-girth', 262)] }, { measures: [measure('instep-girth', 250)] }] as const;
    expect(found({ ...girths[0], findings: [finding('closing-instep')] }, girths[1])).toMatchObject([{ suspect: 'first', text: expect.stringContaining('The left cast looks wrong, for: About closing-instep.') }]);
    expect(found(girths[0], { ...girths[1], findings: [finding('tape-instep-girth')] })).toMatchObject([{ suspect: 'second' }]);
    expect(found({ ...girths[0], findings: [finding('closing-instep')] }, { ...girths[1], findings: [finding('closing-waist')] })).toMatchObject([{ suspect: null }]);
    expect(found({ ...girths[0], findings: [finding('sole-bend')] }, girths[1])).toMatchObject([{ suspect: null }]);
  });

  it('say that loads differ, and what they may explain', () => {
    const said = found({ load: 'seated', measures: [measure('medial-ball-length', 200)] }, { load: 'full', measures: [measure('medial-ball-length', 208)] });
    expect(said).toMatchObject([
      { code: 'pair-load', severity: 'care', text: expect.stringContaining('up to 3.4 % of the length') },
      { code: 'pair-medial-ball-length', severity: 'note', text: expect.stringContaining('different loads may explain it') },
    ]);
    expect(found({ load: 'seated' }, { load: 'seated' })).toEqual([]);
    expect(found({ load: 'seated' }, {})).toEqual([]);
  });
});

describe('the same foot at another time', () => {
  it('is not mirrored, and compared alike', () => {
    const { relation, registration, findings } = compareCasts(cast({ measures: [measure('ball-girth', 250)] }), cast({ measures: [measure('ball-girth', 235)] }), rules);
    expect(relation).toBe('same-side');
    expect(registration.mirrored).toBe(false);
    expect(findings).toMatchObject([{ code: 'pair-ball-girth' }]);
  });
});

describe('compare.json', () => {
  it('fits its schema, with figures rounded', () => {
    const first = cast({ side: 'left', load: 'half', measures: [measure('ball-girth', 250.123456)], readings: [reading('sole-bend', 9, 8)] });
    const second = cast({ measures: [measure('ball-girth', 240)], readings: [reading('sole-bend', 4, 8)], findings: [finding('sole-bend')] });
    const result = (side: 'left' | 'right', load?: 'half'): ComparedResult => ({
      schema: 1, scan: { file: `${side}.stl`, sha256: 'd'.repeat(64), kind: 'positive', side }, measurements: [], casting: { load }, castCheck: { verdict: 'usable', findings: [], readings: [] },
    });
    const report = comparisonReport(compareCasts(first, second, rules), [comparedScan(result('left', 'half'), 'cast'), comparedScan(result('right'), 'cast')], { name: 'house', version: '1', sha256: 'e'.repeat(64) }, '0.1.0');
    expect(compareFaults(report)).toEqual([]);
    expect(report.measures.find((m) => m.id === 'ball-girth')).toMatchObject({ first: 250.1235, difference: 10.1235, limit: 8, beyond: true });
    expect(report.findings.map((f) => [f.code, f.suspect])).toEqual([['pair-ball-girth', null], ['pair-sole-bend', 'second']]);
    expect(report.casts.map((c) => [c.side, c.load])).toEqual([['left', 'half'], ['right', null]]);
    expect(compareFaults({ ...report, relation: 'cousin' })).not.toEqual([]);
  });
});

describe('a pair\'s findings in the check of one cast', () => {
  const check = { verdict: 'usable', findings: [], readings: [] } as const;
  const said = (suspect: PairFinding['suspect']): PairFinding => ({ ...finding('pair-sole-bend'), suspect });

  it('need care, are a note where the other cast looks wrong, and never ask for a new cast', () => {
    expect(withPair(check, [said(null)])).toMatchObject({ verdict: 'usable-with-care', findings: [{ severity: 'care' }] });
    expect(withPair(check, [said('first')])).toMatchObject({ verdict: 'usable-with-care' });
    expect(withPair(check, [said('second')])).toMatchObject({ verdict: 'usable', findings: [{ severity: 'note' }] });
    expect(withPair({ ...check, verdict: 'recast', findings: [{ ...finding('sole-bend'), severity: 'recast' }] }, [said('second')]).verdict).toBe('recast');
    expect(withPair(check, [said(null)]).findings[0]).not.toHaveProperty('suspect');
  });
});

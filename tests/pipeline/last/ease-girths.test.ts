import { beforeAll, describe, expect, it } from 'vitest';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import { lastGirths } from '@cast-to-last/foot/last-girths';
import { blurredNormals } from '@cast-to-last/geometry/smoothing/blurred-normals';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { vertexNeighbours } from '@cast-to-last/geometry/mesh/topology';
import { CastError } from '@cast-to-last/pipeline/errors';
import { easeGirths } from '@cast-to-last/pipeline/last/ease-girths';
import { solveThree } from '@cast-to-last/pipeline/last/ease/solve-three';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { lastRules } from '@cast-to-last/pipeline/rules/last-rules';
import type { LastRules } from '@cast-to-last/pipeline/rules/last-rules';
import { castBody, mirroredBody } from '../../support/cast-body.js';

type Ease = LastRules['ease'];
const rules = (ease: object): Ease => lastRules.parse({ ease }).ease;
const girths = ({ mesh, filled, landmarks }: LastBody) => lastGirths(feltSurface(mesh, filled), landmarks);

/** How far each vertex went, mm. */
function moves(a: LastBody, b: LastBody): Float64Array {
  const [p, q] = [a.mesh.positions, b.mesh.positions];
  return Float64Array.from({ length: p.length / 3 }, (_, v) => Math.hypot(p[3 * v] - q[3 * v], p[3 * v + 1] - q[3 * v + 1], p[3 * v + 2] - q[3 * v + 2]));
}

describe.each([
  { seed: 31, oddities: [], side: 'right' as const },
  { seed: 32, oddities: ['high-arch' as const], side: 'left' as const },
  { seed: 33, oddities: ['bunion' as const, 'hammer-toe' as const], side: 'right' as const },
])('easeGirths on cast $seed $oddities $side', ({ seed, oddities, side }) => {
  let body: LastBody;
  beforeAll(() => {
    body = castBody(seed, { oddities, side });
  });

  it('gives back the same body where nothing is asked for', () => {
    expect(easeGirths(body, rules({})).body).toBe(body);
    expect(easeGirths(body, rules({ ball: { percent: 0 } })).changes).toEqual([]);
  });

  const asks: object[] = [
    { ball: { mm: 6 } },
    { waist: { percent: 2 } },
    { instep: { mm: -4 } },
    { ball: { mm: 8 }, waist: { mm: 5 }, instep: { percent: 3 } },
    { ball: { percent: -2 }, waist: { percent: -2 }, instep: { mm: 3 } },
  ];
  it.each(asks)('meets %j and keeps the girths that are not asked for', (ask) => {
    const ease = rules(ask);
    const before = girths(body);
    const { body: eased, changes } = easeGirths(body, ease);
    const after = girths(eased);
    for (const station of ['ball', 'waist', 'instep'] as const) {
      const was = before[station] ?? NaN;
      const target = 'mm' in ease[station] ? was + ease[station].mm : was * (1 + ease[station].percent / 100);
      expect(Math.abs((after[station] ?? NaN) - target), station).toBeLessThan(0.1);
      const change = changes.find(({ id }) => id === `${station}-girth`);
      if (!(station in ask)) {
        expect(change).toBeUndefined();
        continue;
      }
      expect(change?.unit).toBe('mm');
      for (const [told, found] of [[change?.before, was], [change?.asked, target], [change?.got, after[station]]]) expect(Math.abs((told ?? NaN) - (found ?? NaN)), station).toBeLessThan(1e-9);
    }
  });

  it('moves along Y alone, and neither sole nor heel nor toes, and makes no surface cross itself', () => {
    const { body: eased } = easeGirths(body, rules({ ball: { mm: 8 }, waist: { mm: 6 }, instep: { mm: 8 } }));
    const [p, q] = [body.mesh.positions, eased.mesh.positions];
    const { footLength, toeTip } = body.landmarks;
    const normals = blurredNormals(body.mesh, 2, vertexNeighbours(body.mesh));
    const moved = moves(body, eased);
    expect(Math.max(...moved)).toBeGreaterThan(2);
    expect(Math.max(...moved)).toBeLessThan(8);
    let [aside, ends, soles, onSole] = [0, 0, 0, 0];
    for (let v = 0; v < moved.length; v++) {
      if (q[3 * v] !== p[3 * v] || q[3 * v + 2] !== p[3 * v + 2]) aside++;
      if (p[3 * v] < 0.14 * footLength || p[3 * v] > toeTip[0] - 0.08 * footLength) ends = Math.max(ends, moved[v]);
      if (normals[3 * v + 2] > -0.5 || p[3 * v + 2] > 0.17 * footLength) continue;
      soles++;
      onSole = Math.max(onSole, moved[v]);
    }
    expect(aside).toBe(0);
    expect(ends).toBe(0);
    expect(soles).toBeGreaterThan(500);
    expect(onSole).toBeLessThan(0.05);
    const crossings = (b: LastBody): number => selfCrossings(b.mesh).reduce((sum, one) => sum + one, 0);
    expect(crossings(eased)).toBeLessThanOrEqual(crossings(body));
  });

  it('does to the other side what it does to this one', () => {
    const ask = rules({ ball: { mm: 5 }, instep: { mm: 3 } });
    const here = easeGirths(body, ask).body;
    const there = easeGirths(mirroredBody(body), ask).body;
    const back = mirroredBody(there);
    expect(Math.max(...moves(here, back))).toBeLessThan(0.05);
  });

  it('refuses what no foot has, and says what to do', () => {
    for (const [ask, told] of [
      [{ ball: { mm: 25 }, waist: { mm: -15 }, instep: { mm: 25 } }, 'ball 25 mm, waist -15 mm, instep 25 mm'],
      [{ ball: { percent: -6 }, waist: { percent: -5.98765 }, instep: { percent: -6 } }, 'ball -6 %, waist -5.99 %, instep -6 %'],
    ] as const) {
      let refused: unknown = null;
      try {
        easeGirths(body, rules(ask));
      } catch (error) {
        refused = error;
      }
      expect(refused).toBeInstanceOf(CastError);
      expect((refused as CastError).code).toBe('girth-out-of-reach');
      expect((refused as CastError).message).toContain(told);
      expect((refused as CastError).remedy).toMatch(/last\.ease/);
    }
  });

  it('says with a refusal how far the same can be had, and that can be had', () => {
    let remedy = '';
    try {
      easeGirths(body, rules({ ball: { percent: -6 }, waist: { percent: -6 }, instep: { percent: -6 } }));
    } catch (error) {
      remedy = (error as CastError).remedy;
    }
    const [ball, waist, instep] = ['ball', 'waist', 'instep'].map((station) => Number(new RegExp(`${station} (-?[\\d.]+) mm`).exec(remedy)?.[1]));
    const { ball: girth } = girths(body);
    expect(ball / (girth as number)).toBeLessThan(-0.015);
    const { changes } = easeGirths(body, rules({ ball: { mm: ball }, waist: { mm: waist }, instep: { mm: instep } }));
    expect(changes).toHaveLength(3);
    for (const { asked, got } of changes) expect(Math.abs(got - (asked as number))).toBeLessThan(0.1);
  });

  it('tells of changes that differ much from one station to the next', () => {
    expect(easeGirths(body, rules({ ball: { mm: 6 }, waist: { mm: 5 }, instep: { mm: 5 } })).warnings).toEqual([]);
    expect(easeGirths(body, rules({ ball: { mm: 7 }, waist: { mm: -3 }, instep: { mm: 6 } })).warnings).toHaveLength(1);
  });

  it('refuses a girth that cannot be measured, but not the others', () => {
    const open: LastBody = { ...body, landmarks: { ...body.landmarks, instep: null } };
    expect(() => easeGirths(open, rules({ instep: { mm: 2 } }))).toThrow(/cannot be measured/);
    expect(Math.abs(easeGirths(open, rules({ ball: { mm: 4 } })).changes[0].got - easeGirths(open, rules({ ball: { mm: 4 } })).changes[0].asked!)).toBeLessThan(0.1);
  });
});

describe('solveThree', () => {
  it('finds the solution of a bent system, and gives up where there is none', () => {
    const f = (a: ArrayLike<number>): Float64Array => Float64Array.from([a[0] + 0.1 * a[1] ** 2, a[1] - 0.2 * a[0], 2 * a[2] + 0.1 * a[0] * a[1]]);
    const found = solveThree(f, f([1, -2, 3]), [0, 0, 0]);
    for (let k = 0; k < 3; k++) expect(found?.[k]).toBeCloseTo([1, -2, 3][k], 3);
    expect(solveThree((a) => Float64Array.from([a[0], a[0], a[2]]), [1, 2, 3], [0, 0, 0])).toBeNull();
  });
});

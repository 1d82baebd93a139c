import { beforeAll, describe, expect, it } from 'vitest';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import type { ToeRules } from '@cast-to-last/pipeline/last/shape-toes';
import { shapeToes } from '@cast-to-last/pipeline/last/shape-toes';
import { castBody, mirroredBody } from '../../support/cast-body.js';
import { outsideOf } from '../../support/surface-distance.js';

const rules = (toeAllowanceMm: number, level = true, heightMm: number | null = null): ToeRules => ({ toeAllowanceMm, toeBox: { level, heightMm } });

/** How far ahead of the line through the ball points a place lies, mm. */
function aheadOfBall({ landmarks: { medialBall: m, lateralBall: l } }: LastBody, x: number, y: number): number {
  return x - m[0] - ((l[0] - m[0]) * (y - m[1])) / (l[1] - m[1]);
}

const key = (p: Float64Array, i: number): string => `${p[i]} ${p[i + 1]} ${p[i + 2]}`;

/** The vertices behind the ball line, bit for bit. */
function behindBall(body: LastBody, { positions: p }: Mesh): string[] {
  const out: string[] = [];
  for (let i = 0; i < p.length; i += 3) if (aheadOfBall(body, p[i], p[i + 1]) <= 0) out.push(key(p, i));
  return out.sort();
}

const tipOf = ({ positions: p }: Mesh): number => p.reduce((most, c, i) => (i % 3 === 0 && c > most ? c : most), -Infinity);

/** Greatest z of the part with x ≥ 0.90 of foot length, above its lowest point. */
function toeHeight({ mesh: { positions: p }, landmarks }: LastBody): number {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] < 0.9 * landmarks.footLength) continue;
    low = Math.min(low, p[i + 2]);
    high = Math.max(high, p[i + 2]);
  }
  return high - low;
}

/** The warnings about the height of the box. */
const ofBox = (warnings: readonly string[]): string[] => warnings.filter((text) => text.includes('toe box'));

const crossings = ({ mesh }: LastBody): number => selfCrossings(mesh).reduce((sum, one) => sum + one, 0);

describe.each([
  { seed: 41, oddities: ['hammer-toe' as const], side: 'right' as const, top: 'cut' as const },
  { seed: 42, oddities: ['long-second-toe' as const], side: 'left' as const, top: 'ragged' as const },
  { seed: 43, oddities: ['bunion' as const], side: 'left' as const, top: 'capped' as const },
])('shapeToes on cast $seed $oddities $side $top', ({ seed, oddities, side, top }) => {
  let body: LastBody;
  beforeAll(() => {
    body = castBody(seed, { oddities, side, top, triangles: 20_000 });
  });

  it('gives back the same body where nothing is asked for', () => {
    expect(shapeToes(body, rules(0, false)).body).toBe(body);
  });

  it.each([
    { mm: 3, level: false },
    { mm: 12, level: true },
    { mm: 30, level: false },
  ])('adds $mm mm, holds the foot, and leaves all behind the ball line as it is', async ({ mm, level }) => {
    const { body: shaped, changes } = shapeToes(body, rules(mm, level));
    const tip = tipOf(body.mesh);
    expect(tipOf(shaped.mesh)).toBeCloseTo(tip + mm, 6);
    expect(shaped.landmarks.toeTip[0]).toBeCloseTo(tip + mm, 6);
    expect(changes).toEqual([{ id: 'toe-allowance', label: expect.any(String), unit: 'mm', before: tip, asked: tip + mm, got: tipOf(shaped.mesh) }]);

    const behind = behindBall(body, body.mesh);
    expect(behind.length).toBeGreaterThan(1000);
    expect(behindBall(body, shaped.mesh)).toEqual(behind);

    const outside = outsideOf(shaped.mesh);
    const { positions: p } = body.mesh;
    let worst = 0;
    for (let i = 0; i < p.length; i += 3) if (aheadOfBall(body, p[i], p[i + 1]) > 0) worst = Math.max(worst, outside(p[i], p[i + 1], p[i + 2]));
    expect(worst).toBeLessThan(0.05);

    const twin = twins(shaped.mesh);
    expect(boundaryLoops(shaped.mesh, twin)).toHaveLength(body.opening === null ? 0 : 1);
    expect(twin.includes(-2)).toBe(false);
    expect(crossings(shaped)).toBeLessThanOrEqual(crossings(body));
    const closed = shaped.opening === null ? shaped.mesh : capLoop(shaped.mesh, shaped.opening);
    const solid = await withSolids((scope) => {
      const made = scope.ofMesh(closed);
      return { genus: made.genus, pieces: made.decompose().length };
    });
    expect(solid).toEqual({ genus: 0, pieces: 1 });
  });

  it('carries the opening and the made-up surface along', () => {
    const filled = Uint8Array.from(body.filled, (_, v) => (body.mesh.positions[3 * v] < 40 ? 1 : 0));
    const { body: shaped } = shapeToes({ ...body, filled }, rules(8));
    const [p, q] = [body.mesh.positions, shaped.mesh.positions];
    expect(shaped.opening?.length).toBe(body.opening?.length);
    expect(Array.from(shaped.opening ?? [], (v) => key(q, 3 * v))).toEqual(Array.from(body.opening ?? [], (v) => key(p, 3 * v)));
    expect(shaped.filled.length).toBe(q.length / 3);
    expect(shaped.filled.filter((made, v) => made !== (q[3 * v] < 40 ? 1 : 0))).toHaveLength(0);
  });

  it('levels the toes without an allowance: hardly longer, the webs gone', () => {
    const { body: level } = shapeToes(body, rules(0));
    expect(Math.abs(tipOf(level.mesh) - tipOf(body.mesh))).toBeLessThan(0.3);
    const { positions: p } = body.mesh;
    const outside = outsideOf(level.mesh);
    let [deepest, out, count] = [0, 0, 0];
    for (let i = 0; i < p.length; i += 3) {
      if (aheadOfBall(body, p[i], p[i + 1]) <= 0) continue;
      const d = outside(p[i], p[i + 1], p[i + 2]);
      deepest = Math.max(deepest, -d);
      count++;
      if (d > 0.3) out++;
    }
    expect(deepest).toBeGreaterThan(4);
    expect(out / count).toBeLessThan(0.01);
  });

  it('raises the box to the height asked for, and never lowers it', () => {
    const own = toeHeight(shapeToes(body, rules(10)).body);
    const raised = shapeToes(body, rules(10, true, own + 6));
    expect(toeHeight(raised.body)).toBeCloseTo(own + 6, 6);
    expect(raised.changes.find(({ id }) => id === 'toe-box-height')).toMatchObject({ before: toeHeight(body), asked: own + 6, got: toeHeight(raised.body) });
    expect(ofBox(raised.warnings)).toEqual([]);
    expect(tipOf(raised.body.mesh)).toBeCloseTo(tipOf(body.mesh) + 10, 6);
    expect(behindBall(body, raised.body.mesh)).toEqual(behindBall(body, body.mesh));
    expect(crossings(raised.body)).toBeLessThanOrEqual(crossings(body));
    const lower = shapeToes(body, rules(10, true, 15));
    expect(toeHeight(lower.body)).toBeCloseTo(Math.max(own, 15), 6);
    expect(ofBox(lower.warnings)).toHaveLength(own > 15.1 ? 1 : 0);
  });

  it('does to the other side what it does to this one', () => {
    const here = shapeToes(body, rules(10)).body;
    const there = mirroredBody(shapeToes(mirroredBody(body), rules(10)).body);
    const outside = outsideOf(there.mesh);
    const { positions: q } = here.mesh;
    let worst = 0;
    for (let i = 0; i < q.length; i += 3) worst = Math.max(worst, Math.abs(outside(q[i], q[i + 1], q[i + 2])));
    expect(worst).toBeLessThan(0.1);
  });
});

describe('shapeToes', () => {
  it('refuses a cast without toes', () => {
    const body = castBody(41, { oddities: ['hammer-toe'], side: 'right', top: 'cut', triangles: 20_000 });
    const ball = body.landmarks.toeTip[0] - 2;
    const noToes: LastBody = { ...body, landmarks: { ...body.landmarks, medialBall: [ball, 20, 10], lateralBall: [ball - 5, -20, 10] } };
    expect(() => shapeToes(noToes, rules(5))).toThrow(CastError);
  });
});

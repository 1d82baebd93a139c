import { describe, expect, it } from 'vitest';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import { section } from '@cast-to-last/geometry/sections/section';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody, LastChange, LastStep } from '@cast-to-last/pipeline/last/last-body';
import { shapeSole } from '@cast-to-last/pipeline/last/shape-sole';
import { shapeToes } from '@cast-to-last/pipeline/last/shape-toes';
import type { SoleReading } from '@cast-to-last/pipeline/last/sole/sole-reading';
import { readSole } from '@cast-to-last/pipeline/last/sole/sole-reading';
import type { Oddity } from '../../phantoms/foot/foot-parameters.js';
import { castBody, mirroredBody } from '../../support/cast-body.ts';
import { circleRadius } from '../../support/circle-fit.ts';
import { SLAB, edgedSlab } from '../../support/edged-slab.ts';
import { rng } from '../../support/rng.ts';

const change = ({ changes }: LastStep, id: string): LastChange => {
  const found = changes.find((c) => c.id === id);
  if (found === undefined) throw new Error(`no change ${id}`);
  return found;
};

type Flat = readonly (readonly [number, number])[];

/** y, z of the longest curve of the section across at x. */
function across({ mesh }: LastBody, x: number): Flat {
  const [{ points }] = section(mesh, twins(mesh), [1, 0, 0], x);
  return Array.from({ length: points.length / 3 }, (_, i) => [points[3 * i + 1], points[3 * i + 2]] as const);
}

/** The radius with which the section turns from sole to side on the hand of `side` (±1): where it slopes by 20° to 69°. */
function cornerRadius(body: LastBody, x: number, side: number): number {
  const line = across(body, x);
  const near = line.filter((_, i) => {
    const [a, b] = [line[i], line[(i + 1) % line.length]];
    const slope = Math.atan2(Math.abs(b[1] - a[1]), Math.abs(b[0] - a[0]));
    const [y, z] = line[i];
    return side * y > 15 && z < 14 && slope > 0.35 && slope < 1.2;
  });
  return circleRadius(near);
}

/** Root of the mean square of the distances of the sole across at x from its straight line, |y| ≤ half. */
function offStraight(body: LastBody, x: number, half: number, middle = 0): number {
  const sole = across(body, x).filter(([y, z]) => Math.abs(y - middle) <= half && z < 18);
  const n = sole.length;
  const [my, mz] = [0, 1].map((k) => sole.reduce((sum, p) => sum + p[k], 0) / n);
  const slope = sole.reduce((sum, [y, z]) => sum + (y - my) * (z - mz), 0) / sole.reduce((sum, [y]) => sum + (y - my) ** 2, 0);
  return Math.sqrt(sole.reduce((sum, [y, z]) => sum + (z - mz - slope * (y - my)) ** 2, 0) / n);
}

/** Greatest angle between neighbouring triangles of the sole more than 11 mm inside its outline, from heel seat to tread, degrees. */
function sharpestInSole({ mesh }: LastBody, foot: LastBody): number {
  const { positions: p, triangles: t } = mesh;
  const { index } = readSole(foot) as SoleReading;
  const { footLength } = foot.landmarks;
  const place = { sample: 0, share: 0, out: 0 };
  const inside = (x: number, y: number): boolean => x > 0.2 * footLength && x < 0.72 * footLength && (!index.locate(x, y, place) || place.out < -11);
  const normals = triangleNormals(mesh);
  const size = (f: number): number => Math.hypot(normals[f], normals[f + 1], normals[f + 2]);
  let least = 1;
  twins(mesh).forEach((o, h) => {
    const i = 3 * t[h];
    if (o < h || p[i + 2] > 0.15 * footLength || !inside(p[i], p[i + 1])) return;
    const [f, g] = [h, o].map((half) => half - (half % 3));
    if (Math.max(normals[f + 2] / size(f), normals[g + 2] / size(g)) > -0.7) return;
    least = Math.min(least, (normals[f] * normals[g] + normals[f + 1] * normals[g + 1] + normals[f + 2] * normals[g + 2]) / size(f) / size(g));
  });
  return (Math.acos(least) * 180) / Math.PI;
}

const crossings = (body: LastBody): number => selfCrossings(body.mesh).reduce((a, b) => a + b, 0);

describe('shapeSole on a slab whose edge is known', () => {
  it('hands the body on where nothing is asked for', () => {
    const body = edgedSlab();
    expect(shapeSole(body, { shape: 'as-cast', featherRadiusMm: null })).toEqual({ body, changes: [], warnings: [] });
  });

  it('reads a slab\'s own edge as it is', () => {
    const body = edgedSlab({ edge: 12, step: 1 });
    expect(change(shapeSole(body, { shape: 'as-cast', featherRadiusMm: 3 }), 'feather-radius').before).toBeCloseTo(12, 0);
  });

  it.each([
    { radius: 1, shape: 'as-cast' as const, step: 2 },
    { radius: 3, shape: 'as-cast' as const, step: 1.5 },
    { radius: 2, shape: 'flat' as const, step: 2 },
    { radius: 5, shape: 'flat' as const, step: 1.5 },
  ])('gives tread and heel seat an edge of $radius mm, sole $shape, vertices $step mm apart', ({ radius, shape, step }) => {
    const body = edgedSlab({ edge: 12, step });
    const made = shapeSole(body, { shape, featherRadiusMm: radius });
    for (const x of [30, 50, 165, 180]) {
      for (const side of [-1, 1]) expect(Math.abs(cornerRadius(made.body, x + 0.31, side) / radius - 1), `${x} ${side}`).toBeLessThan(0.1);
    }
    expect(Math.abs(change(made, 'feather-radius').got / radius - 1)).toBeLessThan(0.1);
    expect(made.warnings).toEqual([]);
  });

  it('adds only, only at the edge, and what it made is whole', () => {
    const body = edgedSlab({ edge: 12 });
    const { body: made, changes } = shapeSole(body, { shape: 'as-cast', featherRadiusMm: 2 });
    const [p, q] = [body.mesh.positions, made.mesh.positions];
    const edgeTo = (x: number, y: number): number => SLAB.half - Math.hypot(Math.max(0, SLAB.half - x, x - SLAB.length + SLAB.half), y);
    let added = 0;
    for (let i = 0; i < p.length; i += 3) {
      const far = Math.hypot(q[i] - p[i], q[i + 1] - p[i + 1], q[i + 2] - p[i + 2]);
      added = Math.max(added, far);
      if (edgeTo(p[i], p[i + 1]) > 22 || p[i + 2] > 22) expect(far).toBe(0);
      // Out and down, but for the twentieth of a millimetre by which the corner begins softly.
      expect(q[i + 2]).toBeLessThanOrEqual(p[i + 2] + 0.06);
      expect(edgeTo(q[i], q[i + 1])).toBeLessThanOrEqual(edgeTo(p[i], p[i + 1]) + 0.06);
    }
    // A corner of two lines 68° apart over an edge of 12 mm, the fillet of 2 mm in it: (12 − 2) · (1 / cos 34° − 1) in closed form.
    expect(added).toBeGreaterThan(1.5);
    expect(added).toBeLessThan((12 - 2) * (1 / Math.cos((34 * Math.PI) / 180) - 1) + 0.25);
    expect(changes.find((c) => c.id === 'feather-added')?.got).toBeCloseTo(added, 0);
    expect(boundaryLoops(made.mesh, twins(made.mesh))).toHaveLength(1);
    expect(twins(made.mesh).includes(-2)).toBe(false);
    expect(made.filled.length).toBe(q.length / 3);
    expect(Array.from(made.opening ?? [])).toEqual(Array.from(body.opening ?? []));
  });

  it('does not cut an edge that is sharper than what is asked for, and says so', () => {
    const body = edgedSlab({ edge: 3, step: 1 });
    const made = shapeSole(body, { shape: 'as-cast', featherRadiusMm: 8 });
    expect(made.warnings).toHaveLength(1);
    expect(made.warnings[0]).toMatch(/sharper \([23]\.\d mm\)/);
    // Added where the lines of sole and side leave room, never taken off: no vertex goes up or in.
    const [p, q] = [body.mesh.positions, made.body.mesh.positions];
    for (let i = 0; i < p.length; i += 3) {
      expect(q[i + 2]).toBeLessThanOrEqual(p[i + 2] + 0.06);
      expect(Math.abs(q[i + 1])).toBeGreaterThanOrEqual(Math.abs(p[i + 1]) - 0.06);
    }
  });

  it.each([1, 2, 3])('makes a round tread flat across, standing on it and not cutting it (seed %i)', (seed) => {
    const random = rng(seed);
    const [hollow, tilt] = [random.range(0.5, 1.5), random.range(-0.03, 0.03)];
    const lift = (x: number, y: number): number => hollow * Math.cos((y / 40) * Math.PI) + tilt * y + 0.4 * Math.sin(x / 25);
    const body = edgedSlab({ lift, step: 1.5 });
    const made = shapeSole(body, { shape: 'flat', featherRadiusMm: null });
    for (const x of [25, 45, 170, 185]) {
      expect(offStraight(body, x + 0.31, 24)).toBeGreaterThan(0.1);
      expect(offStraight(made.body, x + 0.31, 24), `x ${x}`).toBeLessThan(0.05);
    }
    expect(change(made, 'sole-across').got).toBeLessThan(0.05);
    // Nowhere more than a tenth of a millimetre into the foot.
    const [p, q] = [body.mesh.positions, made.body.mesh.positions];
    for (let i = 0; i < p.length; i += 3) if (p[i] > 20 && p[i] < 190 && Math.abs(p[i + 1]) < 24 && p[i + 2] < 5) expect(q[i + 2] - p[i + 2]).toBeLessThan(0.15);
    // Sides and top stay.
    for (let i = 0; i < p.length; i += 3) if (p[i + 2] > 12) for (let k = 0; k < 3; k++) expect(q[i + k]).toBe(p[i + k]);
  });

  it.each([1, 32, 101])('passes from the waist of a high arch into tread and heel seat without a step (seed %i)', (seed) => {
    const foot = castBody(seed, { oddities: ['high-arch'], triangles: 20_000 });
    const { body } = shapeToes(foot, { toeAllowanceMm: 0, toeBox: { level: true, heightMm: null } });
    // The foot's own sharpest place there, and that of the last.
    const [fair, flat] = (['fair', 'flat'] as const).map((shape) => sharpestInSole(shapeSole(body, { shape, featherRadiusMm: null }).body, foot));
    expect(fair).toBeGreaterThan(5);
    expect(flat).toBeLessThan(22);
  });

  it.each([4, 5])('takes texture and small bumps off a fair sole, and keeps the arch (seed %i)', (seed) => {
    const random = rng(seed);
    const arch = (x: number, y: number): number => 9 * Math.exp(-(((x - 115) / 30) ** 2)) * (1 + y / 80);
    const bumps = Array.from({ length: 12 }, () => [random.range(30, 200), random.range(-22, 22), random.range(-0.5, 0.5)]);
    const rough = (x: number, y: number): number => 0.1 * random.normal() + bumps.reduce((sum, [bx, by, h]) => sum + h * Math.exp(-((x - bx) ** 2 + (y - by) ** 2) / 8), 0);
    const clean = edgedSlab({ lift: arch, step: 1.5 });
    const body = edgedSlab({ lift: (x, y) => arch(x, y) + rough(x, y), step: 1.5 });
    const made = shapeSole(body, { shape: 'fair', featherRadiusMm: null });
    let [was, is, n] = [0, 0, 0];
    const [c, p, q] = [clean, body, made.body].map(({ mesh }) => mesh.positions);
    for (let i = 0; i < c.length; i += 3) {
      if (c[i] < 25 || c[i] > 215 || Math.abs(c[i + 1]) > 26 || c[i + 2] > 15) continue;
      was += (p[i + 2] - c[i + 2]) ** 2;
      is += (q[i + 2] - c[i + 2]) ** 2;
      n++;
    }
    expect(n).toBeGreaterThan(2000);
    expect(Math.sqrt(was / n)).toBeGreaterThan(0.1);
    expect(Math.sqrt(is / n)).toBeLessThan(0.5 * Math.sqrt(was / n));
    expect(change(made, 'sole-unevenness').before).toBeGreaterThan(0.09);
    expect(change(made, 'sole-unevenness').got).toBeLessThan(0.02);
  });
});

describe('shapeSole on generated casts', () => {
  const NONE: Oddity[] = [];
  it.each([
    { seed: 71, shape: 'flat' as const, radius: 2, triangles: 20_000, top: 'ragged' as const },
    { seed: 72, shape: 'fair' as const, radius: 1, triangles: 14_000, top: 'capped' as const },
    { seed: 75, shape: 'flat' as const, radius: 4, triangles: 14_000, top: 'cut' as const },
    { seed: 77, shape: 'as-cast' as const, radius: 2, triangles: 100_000, top: 'cut' as const },
  ])('stays whole and leaves the rest alone: $shape, $radius mm, $triangles triangles (seed $seed)', ({ seed, shape, radius, triangles, top }) => {
    const body = castBody(seed, { triangles, top, ...(seed === 75 ? { oddities: NONE } : {}) });
    const made = shapeSole(body, { shape, featherRadiusMm: radius });
    expect(twins(made.body.mesh).includes(-2)).toBe(false);
    expect(boundaryLoops(made.body.mesh).length).toBe(boundaryLoops(body.mesh).length);
    expect(crossings(made.body)).toBeLessThanOrEqual(crossings(body));
    expect(Math.abs(change(made, 'feather-radius').got / radius - 1)).toBeLessThan(0.1);
    const [p, q] = [body.mesh.positions, made.body.mesh.positions];
    // Above the edge, by far: the dorsum, the leg, the top.
    for (let i = 0; i < p.length; i += 3) if (p[i + 2] > 70) for (let k = 0; k < 3; k++) expect(q[i + k]).toBe(p[i + k]);
    if (shape === 'flat') expect(change(made, 'sole-across').got).toBeLessThan(0.05);
    expect(made.body.landmarks).toBe(body.landmarks);
  });

  it('does on the left foot what it does on the right one', () => {
    const body = castBody(73, { triangles: 12_000, side: 'right' });
    const [right, left] = [body, mirroredBody(body)].map((b) => shapeSole(b, { shape: 'flat', featherRadiusMm: 2 }));
    for (const { id, got } of right.changes) expect(Math.abs(change(left, id).got - got), id).toBeLessThan(0.1);
  });
});

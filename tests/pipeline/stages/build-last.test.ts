import { beforeAll, describe, expect, it } from 'vitest';
import { isTaken } from '@cast-to-last/foot/measures';
import type { Measurement, MeasureId } from '@cast-to-last/foot/measures';
import { takeMeasures } from '@cast-to-last/foot/take-measures';
import { lowPass } from '@cast-to-last/geometry/smoothing/low-pass';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import type { MeasuredCast } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { SolidError } from '@cast-to-last/geometry/solids/solid';
import { buildLast } from '@cast-to-last/pipeline/stages/build-last';
import { MEASURING_BLUR } from '@cast-to-last/foot/felt-surface';
import { makePhantom } from '../../phantoms/make-phantom.js';
import { refusalOf } from '../../support/refusal-of.js';

const SEED = 7;
const rules = DEFAULT_RULES.last;
let cast: MeasuredCast;
let opening: Uint32Array;
let aligned: { opening: Uint32Array | null; filled: Uint8Array; side: 'right' };

/** A clean foot with an open top, in its foot frame. */
beforeAll(() => {
  const { clean: mesh } = makePhantom(SEED, { triangles: 20_000, posed: false, side: 'right', top: 'cut', dents: 0, bumps: 0, ridges: 0, seam: false }).truth;
  const loops = boundaryLoops(mesh);
  expect(loops).toHaveLength(1);
  opening = loops[0];
  const filled = new Uint8Array(mesh.positions.length / 3);
  aligned = { opening, filled, side: 'right' };
  cast = measured(mesh, filled);
});

/** What the measuring stage makes of a surface that stands in its frame. */
function measured(mesh: Mesh, filled: Uint8Array): MeasuredCast {
  const twin = twins(mesh);
  const taken = takeMeasures({ mesh: lowPass(mesh, MEASURING_BLUR, twin), twin, filled }, { side: 'right', on: 'cast', roughness: 0, wholeTo: lowestOf(mesh, opening) });
  if (taken === null) throw new Error('the phantom has no heel or ball');
  return { mesh, transform: identity(), settle: identity(), ...taken };
}

const lowestOf = (mesh: Mesh, vertices: Uint32Array): number => Math.min(...Array.from(vertices, (v) => mesh.positions[3 * v + 2]));

const valueOf = (measurements: readonly Measurement[], id: MeasureId): number => {
  const m = measurements.find((other) => other.id === id);
  return m !== undefined && isTaken(m) ? m.value : NaN;
};

describe(`buildLast on the phantom of seed ${SEED}`, () => {
  it('closes the top and keeps every vertex of the cast where it was, to a 32-bit float', async () => {
    const last = await buildLast(cast, aligned, rules);
    expect(boundaryLoops(last.mesh)).toEqual([]);
    expect(last.manifold).toBe(true);
    expect(last.allowances).toEqual({ toeMm: 0, topHeightMm: null, changes: [] });
    expect(last.mesh.positions.subarray(0, cast.mesh.positions.length)).toEqual(Float64Array.from(cast.mesh.positions, Math.fround));
    expect(last.volume).toBeGreaterThan(0);
    expect(Math.abs(last.volume / signedVolume(last.mesh) - 1)).toBeLessThan(1e-4);
  });

  it('says of the last what a fresh measuring of its mesh finds, where nothing was added', async () => {
    const last = await buildLast(cast, aligned, rules);
    expect(last.measurements.every((m) => m.on === 'last')).toBe(true);
    expect(last.measurements.map((m) => m.id)).toEqual(cast.measurements.map((m) => m.id));
    const fresh = measured(last.mesh, new Uint8Array(last.mesh.positions.length / 3)).measurements;
    const taken = last.measurements.filter(isTaken);
    expect(taken.length).toBeGreaterThan(12);
    for (const m of taken) expect(Math.abs(valueOf(fresh, m.id) - m.value), m.id).toBeLessThan(0.02);
  });

  it('cuts a flat top at exactly the height of the rule', async () => {
    const topHeightMm = Math.floor(lowestOf(cast.mesh, opening)) - 10;
    const last = await buildLast(cast, aligned, { ...rules, topHeightMm });
    expect(bounds(last.mesh.positions)[5]).toBe(topHeightMm);
    expect(boundaryLoops(last.mesh)).toEqual([]);
    expect(Math.abs(last.volume / signedVolume(last.mesh) - 1)).toBeLessThan(1e-4);
    for (const id of ['foot-length', 'ball-girth', 'instep-girth', 'heel-width'] as const) {
      expect(Math.abs(valueOf(last.measurements, id) - valueOf(cast.measurements, id)), id).toBeLessThan(0.05);
    }
  });

  it('adds the toe allowance to the length and to nothing behind the ball', async () => {
    const last = await buildLast(cast, aligned, { ...rules, toeAllowanceMm: 12 });
    expect(Math.abs(valueOf(last.measurements, 'foot-length') - (valueOf(cast.measurements, 'foot-length') + 12))).toBeLessThan(0.05);
    for (const id of ['ball-girth', 'ball-width', 'waist-girth', 'instep-girth', 'short-heel-girth', 'heel-width', 'medial-ball-length'] as const) {
      expect(Math.abs(valueOf(last.measurements, id) - valueOf(cast.measurements, id)), id).toBeLessThan(0.02);
    }
    expect(last.volume).toBeGreaterThan(signedVolume((await buildLast(cast, aligned, rules)).mesh));
  });

  it('knows after the cut, too, which surface repair had made', async () => {
    const { positions } = cast.mesh;
    const filled = Uint8Array.from({ length: positions.length / 3 }, (_, v) => (positions[3 * v + 2] < 25 && positions[3 * v + 1] > 0 ? 1 : 0));
    const share = async (topHeightMm: number | null): Promise<number> => {
      const last = await buildLast(measured(cast.mesh, filled), { ...aligned, filled }, { ...rules, topHeightMm });
      const girth = last.measurements.find((m) => m.id === 'ball-girth');
      return girth !== undefined && isTaken(girth) ? girth.onFilled : NaN;
    };
    const whole = await share(null);
    expect(whole).toBeGreaterThan(0.1);
    expect(whole).toBeLessThan(0.9);
    expect(Math.abs((await share(70)) - whole)).toBeLessThan(0.03);
  });

  it('refuses a flat top above the end of the cast and says where it ends', async () => {
    const ends = Math.floor(lowestOf(cast.mesh, opening));
    const error = await refusalOf(buildLast(cast, aligned, { ...rules, topHeightMm: ends + 20 }));
    expect(error.code).toBe('top-too-low');
    expect(error.message).toMatch(new RegExp(`(${ends}|${ends + 1}) mm`));
  });

  it('refuses a surface that has another hole, rather than calling it closed', async () => {
    const holed = { ...cast, mesh: { positions: cast.mesh.positions, triangles: cast.mesh.triangles.slice(3) } };
    expect((await refusalOf(buildLast(holed, aligned, rules))).code).toBe('last-not-solid');
  });

  it('refuses a surface that faces inward', async () => {
    const inward = { ...cast, mesh: { positions: cast.mesh.positions, triangles: cast.mesh.triangles.slice().reverse() } };
    expect((await refusalOf(buildLast(inward, { ...aligned, opening: opening.slice().reverse() }, rules))).code).toBe('last-not-solid');
  });

  it('takes the word of whoever weighs the last, and tells it before any other failure', async () => {
    expect((await buildLast(cast, aligned, rules, undefined, async () => 1234.5)).volume).toBe(1234.5);
    const refuse = async (): Promise<number> => { throw new SolidError('not-manifold', 'an edge has one triangle'); };
    expect((await refusalOf(buildLast(cast, aligned, rules, undefined, refuse))).code).toBe('last-not-solid');
    const nowhere = { ...cast, landmarks: { ...cast.landmarks, heelCentre: [1e4, 0, 0] as const, pternion: [1e4, 0, 0] as const } };
    expect((await refusalOf(buildLast(nowhere, aligned, { ...rules, topHeightMm: 60 }, undefined, refuse))).code).toBe('last-not-solid');
  });

  it('takes a cast whose top is capped already as it is', async () => {
    const closed = (await buildLast(cast, aligned, rules)).mesh;
    const filled = new Uint8Array(closed.positions.length / 3);
    const last = await buildLast({ ...cast, mesh: closed }, { opening: null, filled, side: 'right' }, rules);
    expect(last.mesh.triangles).toEqual(closed.triangles);
    expect(last.mesh.positions).toEqual(closed.positions);
  });
});

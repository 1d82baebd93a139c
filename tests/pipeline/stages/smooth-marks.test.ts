import { beforeAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { ExtentFinder } from '@cast-to-last/pipeline/marks/extent';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { learnedHeights } from '@cast-to-last/pipeline/marks/learned/learned-heights';
import { findPlaces } from '@cast-to-last/pipeline/marks/places';
import type { InspectedCast, Mark, MarkDecision, SmoothedCast } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { smoothMarks } from '@cast-to-last/pipeline/stages/smooth-marks';
import { noisy } from '../../support/disturb.ts';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { castOf, fromPoint, withMark } from '../../support/marked.ts';
import { rng } from '../../support/rng.ts';

const HALF = [90, 60, 55] as const;
const bare = ellipsoid(HALF, [0, 0, 0], 6);

/** Height over the ellipsoid, to first order. */
function over(x: number, y: number, z: number): number {
  const f = (x / HALF[0]) ** 2 + (y / HALF[1]) ** 2 + (z / HALF[2]) ** 2 - 1;
  return f / (2 * Math.hypot(x / HALF[0] ** 2, y / HALF[1] ** 2, z / HALF[2] ** 2));
}

const centre = [18, 60 * Math.sqrt(1 - (18 / 90) ** 2 - (9 / 55) ** 2), -9];
const others = [[-40, 60 * Math.sqrt(1 - (40 / 90) ** 2 - (15 / 55) ** 2), -15], [18, -centre[1], -9]];

/** Every mark that its spots show, with the decision given. */
function inspect(mesh: Mesh, decisionAt: (centre: readonly number[]) => MarkDecision): InspectedCast {
  const surface = inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
  const finder = new ExtentFinder(surface);
  const marks: Mark[] = [];
  for (const place of findPlaces(surface, learnedHeights(surface))) {
    if (finder.masked[place.vertex] === 1) continue;
    const extent = finder.find(place);
    if (extent === null || finder.masked[extent.centreVertex] === 1) continue;
    for (const v of extent.vertices) finder.masked[v] = 1;
    marks.push({ ...extent, id: `dent-${marks.length + 1}`, kind: 'dent', decision: decisionAt(extent.centre), why: '' });
  }
  return { marks, surface, roughness: 0.02, rippled: false, warnings: [] };
}

const smooth = (mesh: Mesh, inspected: InspectedCast, decisions: Decisions = NO_DECISIONS, marginMm: number | null = null): SmoothedCast =>
  smoothMarks(castOf(mesh), inspected, { ...DEFAULT_RULES.smoothing, marginMm }, decisions);

/** RMS height over the ellipsoid of the vertices within `radius` of a place. */
function errorAt(mesh: Mesh, at: readonly number[], radius: number): number {
  let [sum, count] = [0, 0];
  for (let v = 0; v < mesh.positions.length; v += 3) {
    if (fromPoint(at)(bare.positions[v], bare.positions[v + 1], bare.positions[v + 2]) > radius) continue;
    sum += over(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]) ** 2;
    count++;
  }
  return Math.sqrt(sum / count);
}

const movedAt = ({ moved }: SmoothedCast, at: readonly number[], radius: number): number => {
  let count = 0;
  for (let v = 0; v < moved.length; v++) if (moved[v] === 1 && fromPoint(at)(bare.positions[3 * v], bare.positions[3 * v + 1], bare.positions[3 * v + 2]) <= radius) count++;
  return count;
};

const farthestMove = (a: Mesh, b: Mesh): number => {
  let most = 0;
  for (let v = 0; v < a.positions.length; v += 3) most = Math.max(most, Math.hypot(a.positions[v] - b.positions[v], a.positions[v + 1] - b.positions[v + 1], a.positions[v + 2] - b.positions[v + 2]));
  return most;
};

describe('smoothing', () => {
  const dented = [centre, ...others].reduce((mesh, c) => withMark(mesh, fromPoint(c), -2, 16), bare);
  let inspected: InspectedCast;
  let smoothed: SmoothedCast;
  beforeAll(() => {
    inspected = inspect(dented, (c) => (fromPoint(centre)(c[0], c[1], c[2]) < 6 ? 'smooth' : c[1] > 0 ? 'keep' : 'ask'));
    smoothed = smooth(dented, inspected);
  });

  it('sees the three dents', () => {
    for (const c of [centre, ...others]) expect(inspected.marks.some((m) => fromPoint(c)(m.centre[0], m.centre[1], m.centre[2]) < 4)).toBe(true);
  });

  it('brings the ellipsoid back where the dent was: RMS below 0.03 mm, from 0.97 mm', () => {
    expect(errorAt(dented, centre, 7)).toBeGreaterThan(0.9);
    expect(errorAt(smoothed.mesh, centre, 12)).toBeLessThan(0.03);
  });

  it('leaves every vertex outside `moved` bit for bit where it was, shares the triangles, and leaves the given mesh alone', () => {
    const before = dented.positions.slice();
    const again = smooth(dented, inspected);
    expect(dented.positions).toEqual(before);
    expect(again).toEqual(smoothed);
    expect(smoothed.mesh.triangles).toBe(dented.triangles);
    let still = 0;
    for (let v = 0; v < smoothed.moved.length; v++) {
      if (smoothed.moved[v] === 1) continue;
      still++;
      for (let k = 3 * v; k < 3 * v + 3; k++) if (!Object.is(smoothed.mesh.positions[k], dented.positions[k])) throw new Error(`vertex ${v} moved`);
    }
    expect(still).toBeGreaterThan(0.9 * smoothed.moved.length);
  });

  it('touches neither marks to keep nor those to ask about', () => {
    for (const c of others) {
      expect(movedAt(smoothed, c, 12)).toBe(0);
      expect(errorAt(smoothed.mesh, c, 7)).toBe(errorAt(dented, c, 7));
    }
  });

  it('moves little when it is done again on what it made: 0.05 mm of 2 mm', () => {
    const twice = smooth(smoothed.mesh, { ...inspected, surface: inspectionSurface(smoothed.mesh, new Uint8Array(smoothed.moved.length), true) });
    expect(farthestMove(twice.mesh, smoothed.mesh)).toBeLessThan(0.05);
    expect(farthestMove(smoothed.mesh, dented)).toBeGreaterThan(1.8);
  });

  it('reaches farther with a wider margin', () => {
    const [near, far] = [1, 12].map((margin) => smooth(dented, inspected, NO_DECISIONS, margin));
    expect(movedAt(far, centre, 60)).toBeGreaterThan(1.5 * movedAt(near, centre, 60));
  });

  it('obeys the maker: protected ground is not touched, patches to smooth are smoothed', () => {
    const patch = (c: readonly number[], radiusMm: number, decision: string): object => ({ centre: c, radiusMm, decision });
    const guarded = smooth(dented, inspected, parseDecisions({ patches: [patch(centre, 25, 'protect')] }));
    expect(movedAt(guarded, centre, 20)).toBe(0);
    expect(errorAt(guarded.mesh, centre, 7)).toBe(errorAt(dented, centre, 7));
    const asked = smooth(dented, { ...inspected, marks: [] }, parseDecisions({ patches: [patch(others[0], 10, 'smooth')] }));
    expect(errorAt(asked.mesh, others[0], 7)).toBeLessThan(0.05);
    expect(movedAt(asked, centre, 12)).toBe(0);
  });

  it('a patch that lies far off the cast, and no marks at all, change nothing', () => {
    const far = parseDecisions({ patches: [{ centre: [400, 0, 0], radiusMm: 10, decision: 'smooth' }] });
    for (const decisions of [far, NO_DECISIONS]) {
      const out = smooth(dented, { ...inspected, marks: [] }, decisions);
      expect(out.moved.every((m) => m === 0)).toBe(true);
      expect(out.mesh.positions).toEqual(dented.positions);
    }
  });

  it('says where it could not do what was asked: nothing under a patch, nothing sound round a mark', () => {
    expect(smoothed.warnings).toEqual([]);
    expect(smooth(dented, inspected, parseDecisions({ patches: [{ centre: [400, 0, 0], radiusMm: 10, decision: 'smooth' }, { centre: [0, 300, 0], radiusMm: 10, decision: 'protect' }] })).warnings).toEqual([
      'Nothing of the cast lies under the patch of 10 mm at 400.0, 0.0, 0.0: it did nothing.', 'Nothing of the cast lies under the patch of 10 mm at 0.0, 300.0, 0.0: it did nothing.',
    ]);
    const [mark] = inspected.marks;
    const kept: Mark = { ...mark, id: 'ridge-1', kind: 'ridge', decision: 'keep', vertices: Uint32Array.from(inspected.surface.areas.keys()) };
    const out = smooth(dented, { ...inspected, marks: [{ ...mark, decision: 'smooth' }, kept] });
    expect(out.warnings).toEqual([`No sound surface near enough says what should be at ${mark.id}: it was left as it is.`]);
    expect(out.mesh.positions).toEqual(dented.positions);
  });
});

describe('smoothing under noise', () => {
  it.each([1, 2])('of 0.05 mm leaves less than 0.06 mm RMS where a bump of 2 mm was, and no step at the rim (seed %i)', (seed) => {
    const rough = noisy(withMark(bare, fromPoint(centre), 2, 18), 0.05, rng(seed));
    const smoothed = smooth(rough, inspect(rough, (c) => (fromPoint(centre)(c[0], c[1], c[2]) < 6 ? 'smooth' : 'keep')));
    expect(errorAt(rough, centre, 7)).toBeGreaterThan(1);
    expect(errorAt(smoothed.mesh, centre, 12)).toBeLessThan(0.06);
    // No vertex of the rim stands off by more than the noise does anywhere: five of its standard deviations.
    let worst = 0;
    for (let v = 0; v < bare.positions.length; v += 3) {
      const d = fromPoint(centre)(bare.positions[v], bare.positions[v + 1], bare.positions[v + 2]);
      if (d > 9 && d < 24) worst = Math.max(worst, Math.abs(over(smoothed.mesh.positions[v], smoothed.mesh.positions[v + 1], smoothed.mesh.positions[v + 2])));
    }
    expect(worst).toBeLessThan(0.25);
  });
});

import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { fillHoles } from '@cast-to-last/geometry/repair/fill-holes';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { smoothMarks } from '@cast-to-last/pipeline/stages/smooth-marks';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { castOf, fromPoint } from '../../support/marked.ts';

const HALF = [100, 60, 50] as const;
const bare = ellipsoid(HALF, [0, 0, 0], 6);
/** Where curvature differs along and across, and changes. */
const CENTRE = [45, 0, -50 * Math.sqrt(1 - (45 / 100) ** 2)];

/** Height over the ellipsoid, to first order, mm. */
function over(p: ArrayLike<number>, i: number): number {
  const f = (p[i] / HALF[0]) ** 2 + (p[i + 1] / HALF[1]) ** 2 + (p[i + 2] / HALF[2]) ** 2 - 1;
  return f / (2 * Math.hypot(p[i] / HALF[0] ** 2, p[i + 1] / HALF[1] ** 2, p[i + 2] / HALF[2] ** 2));
}

/** Smoothing without any mark. */
function smoothed(mesh: Mesh, firstVertex: number) {
  const filled = new Uint8Array(mesh.positions.length / 3).fill(1, firstVertex);
  const surface = inspectionSurface(mesh, filled, true);
  return smoothMarks({ ...castOf(mesh), filled }, { marks: [], surface, roughness: 0.02, rippled: false, warnings: [] }, DEFAULT_RULES.smoothing, NO_DECISIONS);
}

const fill = (open: Mesh) => fillHoles(open, vertexTriangles(open), boundaryLoops(open, twins(open)));

/** The ellipsoid with a hole of such a radius that repair filled, and the same after smoothing. */
function filledAndSmoothed(radius: number) {
  const away = fromPoint(CENTRE);
  const p = bare.positions;
  const kept: number[] = [];
  for (let t = 0; t < bare.triangles.length; t += 3) {
    const corners = [...bare.triangles.subarray(t, t + 3)];
    if (corners.every((v) => away(p[3 * v], p[3 * v + 1], p[3 * v + 2]) > radius)) kept.push(...corners);
  }
  const open: Mesh = compactVertices({ positions: p, triangles: Uint32Array.from(kept) });
  const { mesh, firstVertex } = fill(open);
  const cleaned = smoothed(mesh, firstVertex);
  const rms = ({ positions }: Mesh): number => {
    let sum = 0;
    for (let i = 3 * firstVertex; i < positions.length; i += 3) sum += over(positions, i) ** 2;
    return Math.sqrt((3 * sum) / (positions.length - 3 * firstVertex));
  };
  return { mesh, firstVertex, cleaned, before: rms(mesh), after: rms(cleaned.mesh) };
}

describe('what repair put over a hole', () => {
  it.each([15, 25, 35])('is laid anew nearer to the body where the hole is %d mm in radius: less than half as far off', (radius) => {
    const { before, after } = filledAndSmoothed(radius);
    expect(after).toBeLessThan(0.5 * before);
  });

  it('is all that changes: what was scanned stays bit for bit, and nothing counts as moved', () => {
    const { mesh, firstVertex, cleaned } = filledAndSmoothed(25);
    expect(cleaned.mesh.positions.subarray(0, 3 * firstVertex)).toEqual(mesh.positions.subarray(0, 3 * firstVertex));
    expect(cleaned.mesh.positions.subarray(3 * firstVertex)).not.toEqual(mesh.positions.subarray(3 * firstVertex));
    expect(cleaned.moved.every((flag) => flag === 0)).toBe(true);
    expect(cleaned.warnings).toEqual([]);
  });

  it('stays as it is where the hole is as large as an open sole', () => {
    const { mesh, cleaned } = filledAndSmoothed(46);
    expect(cleaned.mesh.positions).toEqual(mesh.positions);
  });

  it('stays where the new surface would lie far from it for so small a hole', () => {
    const { mesh, firstVertex } = filledAndSmoothed(12);
    const sunk = { positions: mesh.positions.map((c, i) => (i % 3 === 2 && i >= 3 * firstVertex ? c + 3 : c)), triangles: mesh.triangles };
    expect(smoothed(sunk, firstVertex).mesh.positions).toEqual(sunk.positions);
  });

  it('stays at the end of a tube, where nothing tells how it goes on', () => {
    const kept: number[] = [];
    const z = (v: number): number => bare.positions[3 * v + 2];
    for (let t = 0; t < bare.triangles.length; t += 3) if ([0, 1, 2].every((k) => z(bare.triangles[t + k]) < 0)) kept.push(...bare.triangles.subarray(t, t + 3));
    // The lower half, its rim upright, drawn together until the end is that of a leg.
    const half = compactVertices({ positions: bare.positions.map((c, i) => c * (i % 3 === 0 ? 0.35 : i % 3 === 1 ? 0.55 : 2)), triangles: Uint32Array.from(kept) });
    const { mesh, firstVertex } = fill(half);
    expect(firstVertex).toBeLessThan(mesh.positions.length / 3);
    expect(smoothed(mesh, firstVertex).mesh.positions).toEqual(mesh.positions);
  });
});

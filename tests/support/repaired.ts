import { expect } from 'vitest';
import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { eulerCharacteristic, signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { RepairedCast, Scan, ScanKind } from '@cast-to-last/pipeline/records';
import { repairCast } from '@cast-to-last/pipeline/stages/repair';
import { bodyDistance, cutAway, footBlob } from './foot-blob.ts';

/** A mesh as read-scan would hand it on. */
const scanOf = (mesh: Mesh, kind: ScanKind = 'positive'): Scan => ({
  mesh,
  format: 'stl-binary',
  trianglesRead: mesh.triangles.length / 3,
  unit: 'mm',
  unitHow: 'given',
  kind,
  warnings: [],
});

export const repair = (mesh: Mesh, kind?: ScanKind): RepairedCast => repairCast(scanOf(mesh, kind));

/** The code of the refusal, or null where there was none. */
export const codeOf = (mesh: Mesh): string | null => {
  try {
    repair(mesh);
    return null;
  } catch (error) {
    if (error instanceof CastError) return error.code;
    throw error;
  }
};

export const foot = footBlob(5);
export const openFoot = cutAway(foot, (_x, _y, z) => z > 130);
export const moved = (mesh: Mesh, dx: number, dy: number, dz: number): Mesh => ({
  positions: mesh.positions.map((c, i) => c + [dx, dy, dz][i % 3]),
  triangles: mesh.triangles,
});

/** What every repaired cast must be, whatever went in. */
export function expectSound(cast: RepairedCast): void {
  const { mesh, opening } = cast;
  const twin = twins(mesh);
  expect(twin.includes(-2)).toBe(false);
  const loops = boundaryLoops(mesh, twin);
  expect(loops.length).toBe(opening === null ? 0 : 1);
  if (opening !== null) {
    const start = loops[0].indexOf(opening[0]);
    expect(Array.from(opening)).toEqual(Array.from(opening, (_, i) => loops[0][(start + i) % loops[0].length]));
  }
  expect(eulerCharacteristic(mesh, twin)).toBe(opening === null ? 2 : 1);
  expect(compactVertices(mesh)).toBe(mesh);
  expect(vertexTriangles(mesh).items.length).toBe(mesh.triangles.length);
  expect(cast.filled.length).toBe(mesh.positions.length / 3);
  expect(mesh.positions.every(Number.isFinite)).toBe(true);
  const middle = [0, 1, 2].map((k) => mesh.positions.reduce((sum, c, i) => (i % 3 === k ? sum + c : sum), 0) / (mesh.positions.length / 3));
  expect(signedVolume(moved(mesh, -middle[0], -middle[1], -middle[2]))).toBeGreaterThan(0);
}

/** Greatest distance of filled vertices from the body that the foot is made of. */
export const worstFill = (cast: RepairedCast): number =>
  cast.filled.reduce((most, f, v) => {
    const [x, y, z] = cast.mesh.positions.subarray(3 * v, 3 * v + 3);
    return f ? Math.max(most, Math.abs(bodyDistance(x, y, z))) : most;
  }, 0);

/** Mean z of the opening's vertices. */
export const meanHeight = (cast: RepairedCast): number =>
  Array.from(cast.opening ?? []).reduce((sum, v) => sum + cast.mesh.positions[3 * v + 2], 0) / (cast.opening?.length ?? 1);

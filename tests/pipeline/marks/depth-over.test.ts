import { describe, expect, it } from 'vitest';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { depthOver } from '@cast-to-last/pipeline/marks/depth-over';
import { gridPlane } from '../../support/meshes.ts';

/** The surface pushed along a slope by what `height` says of x and y, and what it was. */
function pushed(height: (x: number, y: number) => number): { clean: InspectionSurface; surface: InspectionSurface; all: Uint32Array } {
  const sheet = gridPlane(30, 30, 45);
  const sloped = { positions: sheet.positions.map((c, i) => (i % 3 === 2 ? sheet.positions[i - 2] : c)), triangles: sheet.triangles };
  const clean = inspectionSurface(sloped, new Uint8Array(sloped.positions.length / 3), false);
  const positions = clean.mesh.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const h = height(positions[i], positions[i + 1]);
    for (let k = 0; k < 3; k++) positions[i + k] += h * clean.normals[i + k];
  }
  const mesh = { positions, triangles: clean.mesh.triangles };
  return { clean, surface: { ...clean, mesh, normals: vertexNormals(mesh) }, all: Uint32Array.from(clean.areas.keys()) };
}

describe('the depth of a mark over the surface that takes its place', () => {
  const { clean, surface, all } = pushed((x, y) => (x > 0 ? -1.5 : 0.8) * Math.max(0, 1 - Math.hypot(Math.abs(x) - 12, y) / 6));
  const inner = (side: number): Uint32Array => all.filter((v) => side * clean.mesh.positions[3 * v] > 0);
  const deepest = (side: number): number => {
    let most = 0;
    for (const v of inner(side)) {
      const off = Math.hypot(...[0, 1, 2].map((k) => surface.mesh.positions[3 * v + k] - clean.mesh.positions[3 * v + k]));
      most = Math.max(most, off);
    }
    return most;
  };

  it('is what was pushed, along the normal, with the sign of the mark', () => {
    expect(deepest(1)).toBeGreaterThan(1.1);
    expect(depthOver(clean, surface, { vertices: inner(1), depth: -1 })).toBeCloseTo(-deepest(1), 9);
    expect(depthOver(clean, surface, { vertices: inner(-1), depth: 1 })).toBeCloseTo(deepest(-1), 9);
  });

  it('heeds only what stands off to the side of the mark, and is 0 where nothing does', () => {
    expect(depthOver(clean, surface, { vertices: all, depth: 2 })).toBeCloseTo(deepest(-1), 9);
    expect(depthOver(clean, surface, { vertices: inner(1), depth: 1 })).toBeCloseTo(0, 9);
    expect(Math.abs(depthOver(clean, clean, { vertices: all, depth: -1 }))).toBe(0);
  });
});

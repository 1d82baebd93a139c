import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { admesh } from '../support/admesh.ts';
import { closedCylinder, flipped, icosphere, openCylinder, uvTorus } from '../support/meshes.ts';

/** Reference: admesh 0.98 (Debian), which reads STL with code of its own. `npm test` installs it. */

describe('binary STL as admesh reads it', () => {
  it.each([
    ['sphere', icosphere(50, 3)],
    ['torus', uvTorus(60, 20, 48, 24)],
    ['cylinder', closedCylinder(30, 200, 36, 5)],
  ])('%s: closed, facing outward, normals right, with our volume and bounds', (_, mesh) => {
    const { said, faults, normals } = admesh(writeStl(mesh));
    expect(said('Number of facets')).toBe(mesh.triangles.length / 3);
    expect([faults, normals]).toEqual([0, 0]);
    expect(said('Volume') / signedVolume(mesh)).toBeCloseTo(1, 5);
    const box = bounds(mesh.positions);
    ['Min X', 'Min Y', 'Min Z', 'Max X', 'Max Y', 'Max Z'].forEach((label, k) => expect(said(label)).toBeCloseTo(box[k], 4));
  });
  it('an open end and an inside-out sphere are seen as such', () => {
    expect(admesh(writeStl(openCylinder(30, 200, 36, 5))).said('Facets with 1 disconnected edge')).toBe(72);
    expect(admesh(writeStl(flipped(icosphere(50, 3)))).said('Facets reversed')).toBe(1280);
  });
});

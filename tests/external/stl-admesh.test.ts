import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { bounds } from '@cast-to-last/geometry/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { signedVolume } from '@cast-to-last/geometry/quantities';
import { closedCylinder, flipped, icosphere, openCylinder, uvTorus } from '../support/meshes.ts';

/** Reference: admesh 0.98 (Debian), which reads STL with code of its own. `npm test` installs it. */
const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-stl-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function admesh(mesh: Mesh): (label: string) => number {
  const path = join(folder, 'mesh.stl');
  writeFileSync(path, writeStl(mesh));
  const done = spawnSync('admesh', [path], { encoding: 'utf8' });
  if (done.error !== undefined) throw done.error;
  expect(done.stdout).toContain('Binary STL file');
  return (label) => Number(new RegExp(`${label}\\s*[:=]\\s*([-\\d.]+)`).exec(done.stdout)?.[1]);
}

describe('binary STL as admesh reads it', () => {
  it.each([
    ['sphere', icosphere(50, 3)],
    ['torus', uvTorus(60, 20, 48, 24)],
    ['cylinder', closedCylinder(30, 200, 36, 5)],
  ])('%s: closed, facing outward, normals right, with our volume and bounds', (_, mesh) => {
    const said = admesh(mesh);
    expect(said('Number of facets')).toBe(mesh.triangles.length / 3);
    for (const fault of ['Total disconnected facets', 'Degenerate facets', 'Edges fixed', 'Facets removed', 'Facets added', 'Facets reversed', 'Backwards edges', 'Normals fixed']) {
      expect([fault, said(fault)]).toEqual([fault, 0]);
    }
    expect(said('Volume') / signedVolume(mesh)).toBeCloseTo(1, 5);
    const box = bounds(mesh.positions);
    ['Min X', 'Min Y', 'Min Z', 'Max X', 'Max Y', 'Max Z'].forEach((label, k) => expect(said(label)).toBeCloseTo(box[k], 4));
  });
  it('an open end and an inside-out sphere are seen as such', () => {
    expect(admesh(openCylinder(30, 200, 36, 5))('Facets with 1 disconnected edge')).toBe(72);
    expect(admesh(flipped(icosphere(50, 3)))('Facets reversed')).toBe(1280);
  });
});

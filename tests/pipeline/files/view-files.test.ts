import { describe, expect, it } from 'vitest';
import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import { VIEW, fullFiles, lightFile } from '@cast-to-last/pipeline/files/view-files';
import type { ViewBodies } from '@cast-to-last/pipeline/files/view-files';
import { icosphere } from '../../support/meshes.js';

const viewFiles = async (bodies: ViewBodies) => [await lightFile(bodies), ...(await fullFiles(bodies))];

describe('files of views', () => {
  it('hold every body at a light level together, and each at full detail alone', async () => {
    const fine = icosphere(100, 6);
    const change = Float64Array.from({ length: fine.positions.length / 3 }, (_, v) => (fine.positions[3 * v] > 90 ? -2 : 0));
    const files = await viewFiles({ scan: fine, cleaned: fine, last: icosphere(100, 3), change });
    expect(files.map(({ name }) => name)).toEqual(['view-light.glb', 'view-scan.glb', 'view-cleaned.glb', 'view-last.glb']);
    const light = await readPackedGlb(files[0].bytes);
    expect(light.map(({ name }) => name)).toEqual(['scan', 'cleaned', 'last']);
    for (const { mesh } of light) {
      expect(mesh.triangles.length / 3).toBeLessThanOrEqual(VIEW.lightTriangles);
      const off = Array.from({ length: mesh.positions.length / 3 }, (_, v) => Math.abs(Math.hypot(...mesh.positions.subarray(3 * v, 3 * v + 3)) - 100));
      expect(off.reduce((far, d) => Math.max(far, d), 0)).toBeLessThan(0.01);
    }
    expect(light[0].mesh.triangles.length / 3).toBeGreaterThan(VIEW.lightTriangles / 2);
    const wrong = light[1].change?.filter((c, v) => Math.abs(c - (light[1].mesh.positions[3 * v] > 90 ? -2 : 0)) > 1e-3);
    expect(wrong?.length).toBe(0);
    const [cleaned] = await readPackedGlb(files[2].bytes);
    expect(cleaned.mesh.triangles.length).toBe(fine.triangles.length);
    expect(cleaned.extras).toMatchObject({ triangles: fine.triangles.length / 3 });
  });

  it('leaves out a body that is not made yet', async () => {
    const cleaned = icosphere(100, 3);
    expect((await viewFiles({ cleaned })).map(({ name }) => name)).toEqual(['view-light.glb', 'view-cleaned.glb']);
  });
});

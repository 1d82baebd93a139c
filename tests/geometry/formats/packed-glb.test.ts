import { describe, expect, it } from 'vitest';
import { readPackedGlb } from '@cast-to-last/geometry/formats/read-packed-glb';
import { writePackedGlb } from '@cast-to-last/geometry/formats/write-packed-glb';
import { icosphere } from '../../support/meshes.js';

const farthest = (a: ArrayLike<number>, b: ArrayLike<number>): number => Array.from(a).reduce((far, c, i) => Math.max(far, Math.abs(c - b[i])), 0);

describe('packed GLB', () => {
  const mesh = icosphere(140, 5);
  const moved = { ...mesh, positions: mesh.positions.map((c, i) => c + [200, -7, 60][i % 3]) };
  const change = Float64Array.from({ length: mesh.positions.length / 3 }, (_, v) => (v % 10 === 0 ? 3 * Math.sin(v) : 0));

  it('comes back with positions within half a step, triangles turned at most, and changes', async () => {
    const bytes = await writePackedGlb([{ name: 'cleaned', mesh: moved, change, extras: { triangles: 20480 } }, { name: 'last', mesh }]);
    const [cleaned, last] = await readPackedGlb(bytes);
    expect([cleaned.name, last.name]).toEqual(['cleaned', 'last']);
    expect(cleaned.extras).toMatchObject({ triangles: 20480 });
    const step = 140 / 32767;
    expect(farthest(cleaned.mesh.positions, moved.positions)).toBeLessThanOrEqual(step / 2 + 1e-9);
    expect(farthest(cleaned.change ?? [], change)).toBeLessThan(3 / 32767);
    expect(last.change).toBeNull();
    const turned = (t: Uint32Array): string[] => Array.from({ length: t.length / 3 }, (_, f) => {
      const corners = [...t.subarray(3 * f, 3 * f + 3)];
      const first = corners.indexOf(Math.min(...corners));
      return [...corners.slice(first), ...corners.slice(0, first)].join();
    });
    expect(turned(cleaned.mesh.triangles)).toEqual(turned(moved.triangles));
  });

  it('says in open terms what a reader must know: quantised positions with their bounds, and how it is packed', async () => {
    const bytes = await writePackedGlb([{ name: 'cleaned', mesh: moved }]);
    const v = new DataView(bytes.buffer);
    const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + v.getUint32(12, true))));
    expect(json.extensionsRequired).toEqual(['KHR_mesh_quantization', 'EXT_meshopt_compression']);
    expect(json.accessors[0]).toMatchObject({ componentType: 5122, type: 'VEC3', min: [-32767, -32767, -32767], max: [32767, 32767, 32767] });
    expect(json.bufferViews.every(({ byteLength, extensions: { EXT_meshopt_compression: p } }: { byteLength: number; extensions: { EXT_meshopt_compression: { count: number; byteStride: number } } }) => byteLength === p.count * p.byteStride)).toBe(true);
    expect(bytes.length).toBeLessThan(0.45 * (8 * (mesh.positions.length / 3) + 4 * mesh.triangles.length));
  });

  it('refuses what is no such file', async () => {
    const bytes = await writePackedGlb([{ name: 'cleaned', mesh }]);
    await expect(readPackedGlb(bytes.subarray(0, bytes.length - 8))).rejects.toThrow('no whole GLB');
    await expect(readPackedGlb(new Uint8Array(100))).rejects.toThrow('no whole GLB');
    await expect(writePackedGlb([{ name: 'nothing', mesh: { positions: new Float64Array(0), triangles: new Uint32Array(0) } }])).rejects.toThrow('no triangles');
  });
});

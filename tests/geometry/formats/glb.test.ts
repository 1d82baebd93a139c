import { describe, expect, it } from 'vitest';
import { LoadingManager, Mesh as ThreeMesh, Vector3 } from 'three';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { writeGlb } from '@cast-to-last/geometry/formats/glb';
import { box, icosphere } from '../../support/meshes.ts';

interface Accessor { bufferView: number; componentType: number; count: number; type: string; normalized?: boolean; min?: number[]; max?: number[] }
interface View { buffer: number; byteOffset: number; byteLength: number; byteStride?: number; target: number }
interface Gltf {
  asset: { version: string };
  scene: number;
  scenes: { nodes: number[] }[];
  nodes: { name: string; mesh: number; rotation: number[]; scale: number[]; extras?: unknown }[];
  meshes: { primitives: { attributes: Record<string, number>; indices: number; material: number; mode: number }[] }[];
  materials: unknown[];
  accessors: Accessor[];
  bufferViews: View[];
  buffers: { byteLength: number; uri?: string }[];
}

const sphere = icosphere(100, 2);
const colours = Uint8Array.from({ length: sphere.positions.length }, (_, i) => (i * 7) % 256);
const shoe = box(250, 100, 80, 3);
const bytes = writeGlb([
  { name: 'scan', mesh: shoe, baseColour: [128, 128, 128] },
  { name: 'cleaned', mesh: sphere, colours, extras: { change: { unit: 'mm', min: -2, max: 2 } } },
]);
const view = new DataView(bytes.buffer);
const jsonLength = view.getUint32(12, true);
const gltf = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + jsonLength))) as Gltf;
const binary = bytes.subarray(28 + jsonLength);

describe('GLB, by the rules of glTF 2.0', () => {
  it('container: magic, version, lengths, chunks at multiples of 4, padded with spaces', () => {
    expect(new TextDecoder().decode(bytes.subarray(0, 4))).toBe('glTF');
    expect(view.getUint32(4, true)).toBe(2);
    expect(view.getUint32(8, true)).toBe(bytes.length);
    expect(new TextDecoder().decode(bytes.subarray(16, 20))).toBe('JSON');
    expect(jsonLength % 4).toBe(0);
    expect(view.getUint32(20 + jsonLength, true)).toBe(binary.length);
    expect([...bytes.subarray(24 + jsonLength, 28 + jsonLength)]).toEqual([0x42, 0x49, 0x4e, 0]);
    expect(binary.length % 4).toBe(0);
    expect(gltf.asset.version).toBe('2.0');
  });
  it('views lie in the one buffer without overlap, and accessors in their views', () => {
    expect(gltf.buffers).toEqual([{ byteLength: binary.length }]);
    let end = 0;
    for (const v of gltf.bufferViews) {
      expect([v.buffer, v.byteOffset >= end, v.byteOffset % 4]).toEqual([0, true, 0]);
      end = v.byteOffset + v.byteLength;
    }
    expect(end).toBe(binary.length);
    const width = { 5126: 4, 5125: 4, 5121: 1 } as Record<number, number>;
    const items = { SCALAR: 1, VEC3: 3, VEC4: 4 } as Record<string, number>;
    for (const a of gltf.accessors) expect(a.count * width[a.componentType] * items[a.type]).toBe(gltf.bufferViews[a.bufferView].byteLength);
  });
  it('positions have the bounds of their rounded numbers, indices stay below the vertices', () => {
    for (const { primitives: [primitive] } of gltf.meshes) {
      const a = gltf.accessors[primitive.attributes.POSITION];
      const floats = Array.from({ length: 3 * a.count }, (_, i) => new DataView(binary.buffer, binary.byteOffset).getFloat32(gltf.bufferViews[a.bufferView].byteOffset + 4 * i, true));
      for (let k = 0; k < 3; k++) {
        const axis = floats.filter((_, i) => i % 3 === k);
        expect([a.min?.[k], a.max?.[k]]).toEqual([Math.min(...axis), Math.max(...axis)]);
      }
      const indices = gltf.accessors[primitive.indices];
      expect([primitive.mode, gltf.bufferViews[a.bufferView].target, gltf.bufferViews[indices.bufferView].target]).toEqual([4, 34962, 34963]);
      for (let i = 0; i < indices.count; i++) expect(new DataView(binary.buffer, binary.byteOffset).getUint32(gltf.bufferViews[indices.bufferView].byteOffset + 4 * i, true)).toBeLessThan(a.count);
    }
  });
  it('two nodes with names, the legend in the extras of the second', () => {
    expect(gltf.scenes[gltf.scene].nodes.map((n) => gltf.nodes[n].name)).toEqual(['scan', 'cleaned']);
    expect(gltf.nodes[0].extras).toBeUndefined();
    expect(gltf.nodes[1].extras).toEqual({ change: { unit: 'mm', min: -2, max: 2 } });
  });
  it('a general loader puts z up on y, in metres, with the colours', async () => {
    const scene = (await new GLTFLoader(new LoadingManager()).parseAsync(bytes.buffer as ArrayBuffer, '')).scene;
    scene.updateMatrixWorld(true);
    const cleaned = scene.getObjectByName('cleaned');
    const scan = scene.getObjectByName('scan');
    if (!(cleaned instanceof ThreeMesh) || !(scan instanceof ThreeMesh)) throw new Error('The loader found no meshes.');
    expect(cleaned.geometry.index?.array).toEqual(sphere.triangles);
    const point = new Vector3();
    for (let v = 0; v < sphere.positions.length / 3; v++) {
      point.fromBufferAttribute(cleaned.geometry.getAttribute('position'), v).applyMatrix4(cleaned.matrixWorld);
      const [x, y, z] = sphere.positions.subarray(3 * v, 3 * v + 3);
      expect(point.distanceTo(new Vector3(x / 1000, z / 1000, -y / 1000))).toBeLessThan(1e-7);
    }
    const colour = cleaned.geometry.getAttribute('color');
    // sRGB transfer function, IEC 61966-2-1, from memory.
    const linear = (c: number): number => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4);
    for (let v = 0; v < 40; v++) {
      [colour.getX(v), colour.getY(v), colour.getZ(v)].forEach((c, k) => expect(Math.abs(c - linear(colours[3 * v + k]))).toBeLessThan(0.51 / 255));
      expect(colour.getW(v)).toBe(1);
    }
    expect(scan.geometry.getAttribute('color')).toBeUndefined();
    expect(scan.material).toHaveProperty('color.r', expect.closeTo(0.2159, 3));
  });
  it('refuses a mesh without triangles, and colours that do not match', () => {
    expect(() => writeGlb([{ name: 'none', mesh: { positions: new Float64Array(0), triangles: new Uint32Array(0) } }])).toThrow(RangeError);
    expect(() => writeGlb([{ name: 'odd', mesh: sphere, colours: new Uint8Array(3) }])).toThrow(RangeError);
  });
});

import { MeshoptDecoder } from 'meshoptimizer/decoder';
import type { Mesh } from '../mesh/mesh.js';
import { openGlb } from './glb-container.js';

/** One mesh of a file that `writePackedGlb` wrote. */
export interface UnpackedNode {
  readonly name: string;
  /** Millimetres, z up, as exact as the file's steps. */
  readonly mesh: Mesh;
  /** mm at each vertex; null where the file has none. */
  readonly change: Float32Array | null;
  readonly extras: Readonly<Record<string, unknown>>;
}

interface Packing {
  readonly byteOffset: number;
  readonly byteLength: number;
  readonly byteStride: number;
  readonly mode: string;
  readonly count: number;
}

interface Gltf {
  readonly nodes: readonly { readonly name: string; readonly mesh?: number; readonly translation?: readonly number[]; readonly scale?: readonly number[] }[];
  readonly meshes: readonly { readonly primitives: readonly [{ readonly attributes: Readonly<Record<string, number>>; readonly indices: number }]; readonly extras?: Readonly<Record<string, unknown>> }[];
  readonly accessors: readonly { readonly bufferView: number }[];
  readonly bufferViews: readonly { readonly extensions: { readonly EXT_meshopt_compression: Packing } }[];
}

/** The meshes of a file that `writePackedGlb` wrote. Throws RangeError or Error where the bytes are not such a file. */
export async function readPackedGlb(bytes: Uint8Array): Promise<UnpackedNode[]> {
  await MeshoptDecoder.ready;
  const { gltf, binary } = openGlb(bytes);
  const { nodes, meshes, accessors, bufferViews } = gltf as Gltf;
  const unpack = (accessor: number): ArrayBuffer => {
    const { byteOffset, byteLength, byteStride, mode, count } = bufferViews[accessors[accessor].bufferView].extensions.EXT_meshopt_compression;
    const plain = new Uint8Array(count * byteStride);
    MeshoptDecoder.decodeGltfBuffer(plain, count, byteStride, binary.subarray(byteOffset, byteOffset + byteLength), mode);
    return plain.buffer;
  };
  return nodes.flatMap(({ name, mesh, translation = [0, 0, 0], scale = [1, 1, 1] }): UnpackedNode[] => {
    if (mesh === undefined) return [];
    const { primitives: [{ attributes, indices }], extras = {} } = meshes[mesh];
    const steps = new Int16Array(unpack(attributes.POSITION));
    const positions = new Float64Array((steps.length / 4) * 3);
    for (let v = 0, i = 0; i < positions.length; v += 4, i += 3) for (let k = 0; k < 3; k++) positions[i + k] = steps[v + k] * scale[k] + translation[k];
    const changes = attributes._CHANGE === undefined ? null : new Int16Array(unpack(attributes._CHANGE));
    const step = typeof extras.changeStepMm === 'number' ? extras.changeStepMm : 1;
    const change = changes === null ? null : Float32Array.from({ length: changes.length / 2 }, (_, v) => changes[2 * v] * step);
    return [{ name, mesh: { positions, triangles: new Uint32Array(unpack(indices)) }, change, extras }];
  });
}

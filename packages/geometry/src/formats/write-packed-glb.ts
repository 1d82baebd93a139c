import { MeshoptEncoder } from 'meshoptimizer/encoder';
import { bounds } from '../mesh/mesh.js';
import { GLTF, MILLIMETRE, Z_UP_TO_Y_UP, glbContainer, mattMaterial } from './glb-container.js';
import type { NamedMesh } from './glb-container.js';

export interface PackedNode extends NamedMesh {
  /** A signed number at each vertex, mm, stored as `_CHANGE` in steps that the mesh's extras name. */
  readonly change?: Float64Array;
}

/** Plaster, where a mesh has no colour of its own. */
const PLASTER = [232, 226, 214] as const;
const EXTENSION = 'EXT_meshopt_compression';
/** A coordinate is stored as a whole number of steps from the middle of its mesh, from −STEPS to STEPS. */
const STEPS = 32767;

interface Parts {
  readonly views: object[];
  readonly accessors: object[];
  readonly chunks: Uint8Array[];
  packedLength: number;
  plainLength: number;
}

/**
 * A binary glTF 2.0 file that is small and quick to open: positions as 16-bit steps (KHR_mesh_quantization) of at most
 * 0.008 mm in a mesh 500 mm long, everything packed by EXT_meshopt_compression. No normals: viewers make them. Throws RangeError for a mesh without triangles.
 */
export async function writePackedGlb(nodes: readonly PackedNode[]): Promise<Uint8Array> {
  await MeshoptEncoder.ready;
  const parts: Parts = { views: [], accessors: [], chunks: [], packedLength: 0, plainLength: 0 };
  const placed = nodes.map((node) => addNode(parts, node));
  const gltf = {
    asset: { version: '2.0', generator: 'cast-to-last' },
    extensionsUsed: ['KHR_mesh_quantization', EXTENSION],
    extensionsRequired: ['KHR_mesh_quantization', EXTENSION],
    scene: 0,
    scenes: [{ nodes: [nodes.length] }],
    nodes: [
      ...placed.map(({ step, middle }, i) => ({ name: nodes[i].name, mesh: i, translation: middle, scale: [step, step, step] })),
      { name: 'millimetres, z up', rotation: Z_UP_TO_Y_UP, scale: MILLIMETRE, children: nodes.map((_, i) => i) },
    ],
    meshes: placed.map(({ primitive, changeStepMm }, i) => ({
      name: nodes[i].name, primitives: [{ ...primitive, material: i, mode: 4 }], extras: { ...nodes[i].extras, ...(changeStepMm !== null && { changeStepMm }) },
    })),
    materials: nodes.map((node) => mattMaterial(node, PLASTER)),
    accessors: parts.accessors,
    bufferViews: parts.views,
    buffers: [{ byteLength: parts.packedLength }, { byteLength: parts.plainLength, extensions: { [EXTENSION]: { fallback: true } } }],
  };
  return glbContainer(gltf, parts.chunks);
}

function addNode(parts: Parts, { name, mesh: { positions, triangles }, change }: PackedNode) {
  if (triangles.length === 0) throw new RangeError(`The mesh "${name}" has no triangles.`);
  const count = positions.length / 3;
  const box = bounds(positions);
  const middle = [0, 1, 2].map((k) => (box[k] + box[k + 3]) / 2);
  const step = Math.max(...[0, 1, 2].map((k) => (box[k + 3] - box[k]) / 2)) / STEPS;
  const attributes: Record<string, number> = {};

  const quantised = new Int16Array(4 * count);
  for (let v = 0; v < count; v++) for (let k = 0; k < 3; k++) quantised[4 * v + k] = Math.round((positions[3 * v + k] - middle[k]) / step);
  const reach = (end: 0 | 3): number[] => [0, 1, 2].map((k) => Math.round((box[k + end] - middle[k]) / step));
  attributes.POSITION = addAttribute(parts, new Uint8Array(quantised.buffer), { count, stride: 8, type: 'VEC3', componentType: GLTF.short, min: reach(0), max: reach(3) });

  let changeStepMm: number | null = null;
  if (change !== undefined) {
    const most = change.reduce((far, c) => Math.max(far, Math.abs(c)), 0);
    changeStepMm = most > 0 ? most / STEPS : 1;
    const steps = new Int16Array(2 * count);
    for (let v = 0; v < count; v++) steps[2 * v] = Math.round(change[v] / changeStepMm);
    attributes._CHANGE = addAttribute(parts, new Uint8Array(steps.buffer), { count, stride: 4, type: 'SCALAR', componentType: GLTF.short });
  }

  const plain = new Uint8Array(triangles.buffer, triangles.byteOffset, triangles.byteLength);
  const view = addView(parts, MeshoptEncoder.encodeGltfBuffer(plain, triangles.length, 4, 'TRIANGLES'), { mode: 'TRIANGLES', count: triangles.length, stride: 4, target: GLTF.elementArrayBuffer });
  const indices = parts.accessors.push({ bufferView: view, componentType: GLTF.unsignedInt, count: triangles.length, type: 'SCALAR' }) - 1;
  return { primitive: { attributes, indices }, step, middle, changeStepMm };
}

function addAttribute(parts: Parts, bytes: Uint8Array, { count, stride, ...accessor }: { count: number; stride: number } & Record<string, unknown>): number {
  const view = addView(parts, MeshoptEncoder.encodeGltfBuffer(bytes, count, stride, 'ATTRIBUTES'), { mode: 'ATTRIBUTES', count, stride, target: GLTF.arrayBuffer });
  return parts.accessors.push({ bufferView: view, count, ...accessor }) - 1;
}

function addView(parts: Parts, packed: Uint8Array, { mode, count, stride, target }: { mode: string; count: number; stride: number; target: number }): number {
  const plainLength = count * stride;
  parts.views.push({
    buffer: 1, byteOffset: parts.plainLength, byteLength: plainLength, target, ...(target === GLTF.arrayBuffer && { byteStride: stride }),
    extensions: { [EXTENSION]: { buffer: 0, byteOffset: parts.packedLength, byteLength: packed.length, byteStride: stride, mode, count } },
  });
  const padded = new Uint8Array(Math.ceil(packed.length / 4) * 4);
  padded.set(packed);
  parts.chunks.push(padded);
  parts.packedLength += padded.length;
  parts.plainLength += Math.ceil(plainLength / 4) * 4;
  return parts.views.length - 1;
}

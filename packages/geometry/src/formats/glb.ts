import { GLTF, MILLIMETRE, Z_UP_TO_Y_UP, glbContainer, mattMaterial, toLinear } from './glb-container.js';
import type { NamedMesh } from './glb-container.js';

export interface GlbNode extends NamedMesh {
  /** sRGB colour of each vertex, 0 to 255, length 3 × vertices; it is multiplied by `baseColour`, which is white where absent. */
  readonly colours?: Uint8Array;
}

const LINEAR_BYTES = Uint8Array.from({ length: 256 }, (_, byte) => Math.round(255 * toLinear(byte)));

/**
 * Writes a binary glTF 2.0 file with one node for each mesh: float32 positions with exact bounds, uint32 indices,
 * and where colours are given COLOR_0 as normalised bytes. No normals: viewers shade each triangle flat.
 * Throws RangeError for a mesh without triangles, and where colours do not match vertices.
 */
export function writeGlb(nodes: readonly GlbNode[]): Uint8Array {
  const views: object[] = [];
  const accessors: object[] = [];
  const chunks: Uint8Array[] = [];
  let length = 0;
  const addView = (bytes: Uint8Array, target: number, byteStride?: number): number => {
    chunks.push(bytes);
    views.push({ buffer: 0, byteOffset: length, byteLength: bytes.length, target, ...(byteStride === undefined ? {} : { byteStride }) });
    length += bytes.length;
    return views.length - 1;
  };
  const addAccessor = (accessor: object): number => accessors.push(accessor) - 1;

  const meshes = nodes.map((node, i) => {
    const { positions, triangles } = node.mesh;
    const count = positions.length / 3;
    if (triangles.length === 0) throw new RangeError(`The mesh "${node.name}" has no triangles.`);
    if (node.colours !== undefined && node.colours.length !== positions.length) throw new RangeError(`The mesh "${node.name}" has ${count} vertices and ${node.colours.length / 3} colours.`);
    const floats = littleFloats(positions);
    const attributes: Record<string, number> = {
      POSITION: addAccessor({ bufferView: addView(floats.bytes, GLTF.arrayBuffer), componentType: GLTF.float, count, type: 'VEC3', min: floats.min, max: floats.max }),
    };
    if (node.colours !== undefined) {
      attributes.COLOR_0 = addAccessor({ bufferView: addView(linearColours(node.colours), GLTF.arrayBuffer, 4), componentType: GLTF.unsignedByte, normalized: true, count, type: 'VEC4' });
    }
    const indices = addAccessor({ bufferView: addView(littleIndices(triangles), GLTF.elementArrayBuffer), componentType: GLTF.unsignedInt, count: triangles.length, type: 'SCALAR' });
    return { name: node.name, primitives: [{ attributes, indices, material: i, mode: 4 }] };
  });

  const gltf = {
    asset: { version: '2.0', generator: 'cast-to-last' },
    scene: 0,
    scenes: [{ nodes: nodes.map((_, i) => i) }],
    nodes: nodes.map((node, i) => ({
      name: node.name, mesh: i, rotation: Z_UP_TO_Y_UP, scale: MILLIMETRE, ...(node.extras === undefined ? {} : { extras: node.extras }),
    })),
    meshes,
    materials: nodes.map((node) => mattMaterial(node, [255, 255, 255])),
    accessors,
    bufferViews: views,
    buffers: [{ byteLength: length }],
  };
  return glbContainer(gltf, chunks);
}

/** float32 positions, little-endian, and the bounds of the rounded numbers. */
function littleFloats(positions: Float64Array): { bytes: Uint8Array; min: number[]; max: number[] } {
  const bytes = new Uint8Array(4 * positions.length);
  const v = new DataView(bytes.buffer);
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const c = Math.fround(positions[i + k]);
      v.setFloat32(4 * (i + k), c, true);
      if (c < min[k]) min[k] = c;
      if (c > max[k]) max[k] = c;
    }
  }
  return { bytes, min, max };
}

function littleIndices(triangles: Uint32Array): Uint8Array {
  const bytes = new Uint8Array(4 * triangles.length);
  const v = new DataView(bytes.buffer);
  for (let i = 0; i < triangles.length; i++) v.setUint32(4 * i, triangles[i], true);
  return bytes;
}

/** Four bytes a vertex, linear light, opaque: vertex attributes must begin at multiples of 4 bytes. */
function linearColours(colours: Uint8Array): Uint8Array {
  const bytes = new Uint8Array((4 * colours.length) / 3);
  for (let i = 0, at = 0; i < colours.length; i += 3, at += 4) {
    bytes[at] = LINEAR_BYTES[colours[i]];
    bytes[at + 1] = LINEAR_BYTES[colours[i + 1]];
    bytes[at + 2] = LINEAR_BYTES[colours[i + 2]];
    bytes[at + 3] = 255;
  }
  return bytes;
}

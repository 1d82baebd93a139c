import type { Mesh } from '../mesh/mesh.js';

const MAGIC = 0x46546c67;
const JSON_CHUNK = 0x4e4f534a;
const BINARY_CHUNK = 0x004e4942;

/** Numbers that glTF 2.0 takes from WebGL for what a buffer holds. */
export const GLTF = { arrayBuffer: 34962, elementArrayBuffer: 34963, unsignedByte: 5121, short: 5122, unsignedInt: 5125, float: 5126 } as const;

/** An sRGB colour, 0 to 255 each. */
export type Rgb = readonly [number, number, number];

/** A mesh of a file, with its name. */
export interface NamedMesh {
  readonly name: string;
  /** In millimetres, z up. */
  readonly mesh: Mesh;
  /** sRGB. */
  readonly baseColour?: Rgb;
  /** JSON that viewers pass on: legends, units. */
  readonly extras?: Readonly<Record<string, unknown>>;
}

/** sRGB transfer function (IEC 61966-2-1), 0 to 255 → 0 to 1: glTF holds vertex and base colours as linear light. */
export function toLinear(byte: number): number {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** Matt, seen from both sides; @param instead the colour where the mesh has none */
export const mattMaterial = ({ name, baseColour }: NamedMesh, instead: Rgb): object => ({
  name, doubleSided: true, pbrMetallicRoughness: { baseColorFactor: [...(baseColour ?? instead).map(toLinear), 1], metallicFactor: 0, roughnessFactor: 0.9 },
});

/** glTF is y up and in metres; a node turns and scales, so that the stored numbers stay millimetres with z up. */
export const Z_UP_TO_Y_UP = [-Math.SQRT1_2, 0, 0, Math.SQRT1_2];
export const MILLIMETRE = [0.001, 0.001, 0.001];

/** The GLB container: a 12-byte head, a JSON chunk padded with spaces, a binary chunk (whose parts are multiples of 4). */
export function glbContainer(gltf: object, chunks: readonly Uint8Array[]): Uint8Array {
  const json = new TextEncoder().encode(JSON.stringify(gltf));
  const binaryLength = chunks.reduce((sum, chunk) => sum + chunk.length, 0);
  const jsonLength = Math.ceil(json.length / 4) * 4;
  const total = 12 + 8 + jsonLength + 8 + binaryLength;
  const out = new Uint8Array(total);
  const v = new DataView(out.buffer);
  v.setUint32(0, MAGIC, true);
  v.setUint32(4, 2, true);
  v.setUint32(8, total, true);
  v.setUint32(12, jsonLength, true);
  v.setUint32(16, JSON_CHUNK, true);
  out.fill(0x20, 20, 20 + jsonLength);
  out.set(json, 20);
  let at = 20 + jsonLength;
  v.setUint32(at, binaryLength, true);
  v.setUint32(at + 4, BINARY_CHUNK, true);
  at += 8;
  for (const chunk of chunks) {
    out.set(chunk, at);
    at += chunk.length;
  }
  return out;
}

/** The two parts of a GLB file. Throws RangeError where the bytes are none, or end early. */
export function openGlb(bytes: Uint8Array): { readonly gltf: unknown; readonly binary: Uint8Array } {
  const v = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 28 || v.getUint32(0, true) !== MAGIC || v.getUint32(8, true) !== bytes.length || v.getUint32(16, true) !== JSON_CHUNK) throw new RangeError('This is no whole GLB file.');
  const jsonLength = v.getUint32(12, true);
  const at = 20 + jsonLength;
  if (at + 8 > bytes.length || v.getUint32(at + 4, true) !== BINARY_CHUNK || at + 8 + v.getUint32(at, true) !== bytes.length) throw new RangeError('This is no whole GLB file.');
  return { gltf: JSON.parse(new TextDecoder().decode(bytes.subarray(20, at))) as unknown, binary: bytes.subarray(at + 8) };
}

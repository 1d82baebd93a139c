import type { Mesh } from '../mesh/mesh.js';
import { triangleNormals } from '../mesh/quantities.js';
import { MeshFormatError } from './format-error.js';
import type { MeshFile } from './mesh-file.js';
import { grouped } from './mesh-file.js';

/** Binary STL: 80 bytes of header, the number of triangles n, then n records; 84 + 50·n bytes, little-endian. */
const HEADER = 84;
const RECORD = 50;
/** So many records of zeros at the end, a few degenerate triangles of some writers aside, were never written. */
const MOST_BLANK_RECORDS = 20;
/** Bytes of the normal before the nine coordinates of a record. */
const NORMAL = 12;

const view = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Whether the size of the file is exactly what its triangle count asks for; nothing but a binary STL does that. */
export const isExactBinaryStl = (bytes: Uint8Array): boolean =>
  bytes.length >= HEADER && bytes.length === HEADER + RECORD * view(bytes).getUint32(80, true);

/**
 * Whether the records from `first` to before `last` look like triangles: nearly all coordinates of usual size and not
 * all 0, most normals of length 1 or 0. Looks at 200 records at most.
 */
function lookLikeRecords(bytes: Uint8Array, first: number, last: number): boolean {
  const v = view(bytes);
  const count = Math.min(last - first, 200);
  let unusual = 0;
  let zeros = 0;
  let usualNormals = 0;
  for (let i = first; i < first + count; i++) {
    const at = HEADER + RECORD * i;
    for (let k = 0; k < 9; k++) {
      const c = Math.abs(v.getFloat32(at + NORMAL + 4 * k, true));
      if (c === 0) zeros++;
      else if (!(c < 1e9 && c > 1e-20)) unusual++;
    }
    const length = Math.hypot(v.getFloat32(at, true), v.getFloat32(at + 4, true), v.getFloat32(at + 8, true));
    if (length === 0 || Math.abs(length - 1) < 0.01) usualNormals++;
  }
  return zeros < 9 * count && unusual < 0.1 * 9 * count && usualNormals >= 0.5 * count;
}

/** Whether a file whose size and count do not agree is a binary STL all the same. */
export function looksLikeBinaryStl(bytes: Uint8Array): boolean {
  if (bytes.length < HEADER) return false;
  const promised = view(bytes).getUint32(80, true);
  const held = Math.floor((bytes.length - HEADER) / RECORD);
  if (held > 0) return lookLikeRecords(bytes, 0, promised > 0 && promised < held ? promised : held);
  // Cut short before the first triangle: a text or nothing as header, and a count that is none too large.
  return promised > 0 && promised < 1e7 && bytes.subarray(0, 80).every((c) => c === 0 || (c >= 0x20 && c < 0x7f));
}

/** How many triangles to read from a file whose size and count may disagree, and what to say about it. */
function settleCount(bytes: Uint8Array, maxTriangles: number): { count: number; notes: string[] } {
  const promised = view(bytes).getUint32(80, true);
  const held = Math.floor((bytes.length - HEADER) / RECORD);
  const spare = bytes.length - HEADER - RECORD * held;
  if (promised === held && spare === 0) return { count: held, notes: [] };
  if (spare === 0 && (promised === 0 || promised > maxTriangles || (promised < held && lookLikeRecords(bytes, promised, held)))) {
    return {
      count: held,
      notes: [`The header of the STL file says ${grouped(promised)} triangles, but the file holds ${grouped(held)} whole ones; all of them were read.`],
    };
  }
  if (promised > held) {
    const says = `The header of the STL file says ${grouped(promised)} triangles, but the file has room for ${grouped(held)} only`;
    if (promised > maxTriangles) throw new MeshFormatError('count-mismatch', `${says}, so the header is wrong or this is no STL file.`);
    throw new MeshFormatError('truncated-file', `${says}, so it is cut short.`);
  }
  if (promised === 0) throw new MeshFormatError('count-mismatch', `The header of the STL file says 0 triangles, but ${grouped(bytes.length - HEADER)} bytes follow it.`);
  const trailing = bytes.length - HEADER - RECORD * promised;
  return { count: promised, notes: [`The STL file has ${grouped(trailing)} bytes after its last triangle; they were left out.`] };
}

/** A copy that broke off can leave a file of the right size whose rest was never written. */
function refuseZeroTail(bytes: Uint8Array, count: number): void {
  const end = HEADER + RECORD * count;
  let at = end;
  while (at > HEADER && bytes[at - 1] === 0) at--;
  const blank = Math.floor((end - at) / RECORD);
  if (blank < MOST_BLANK_RECORDS) return;
  throw new MeshFormatError('truncated-file', `The last ${grouped(blank)} of ${grouped(count)} triangles in the STL file are nothing but zeros, as in a copy that broke off.`);
}

/**
 * Reads a binary STL: three vertices of its own for each triangle, stored normals and attributes ignored.
 * Errors: truncated-file, count-mismatch, no-triangles, too-many-triangles.
 */
export function readBinaryStl(bytes: Uint8Array, maxTriangles: number): MeshFile {
  if (bytes.length < HEADER) throw new MeshFormatError('truncated-file', 'The STL file ends inside its header, so it is cut short.');
  const { count, notes } = settleCount(bytes, maxTriangles);
  if (count === 0) throw new MeshFormatError('no-triangles', 'The STL file holds no triangles.');
  if (count > maxTriangles) {
    throw new MeshFormatError('too-many-triangles', `The STL file holds ${grouped(count)} triangles; ${grouped(maxTriangles)} is the limit.`);
  }
  const v = view(bytes);
  refuseZeroTail(bytes, count);
  const positions = new Float64Array(9 * count);
  const triangles = new Uint32Array(3 * count);
  for (let i = 0, at = HEADER + NORMAL, p = 0; i < count; i++, at += RECORD, p += 9) {
    for (let k = 0; k < 9; k++) positions[p + k] = v.getFloat32(at + 4 * k, true);
  }
  for (let i = 0; i < triangles.length; i++) triangles[i] = i;
  return { mesh: { positions, triangles }, format: 'stl-binary', notes };
}

export interface WriteStlOptions {
  /** Up to 80 ASCII characters at the head of the file. STL has no unit, so none should be named here. */
  readonly title?: string;
}

export const WRITE_STL_DEFAULTS = { title: 'cast-to-last' } as const satisfies WriteStlOptions;

/** Writes a binary STL: float32 coordinates, unit normals (0 for triangles without area), attributes 0. */
export function writeStl(mesh: Mesh, options: WriteStlOptions = {}): Uint8Array {
  const { positions: p, triangles: t } = mesh;
  const count = t.length / 3;
  const bytes = new Uint8Array(HEADER + RECORD * count);
  const v = view(bytes);
  // Readers take a file that begins with "solid" for an ASCII one.
  const title = (options.title ?? WRITE_STL_DEFAULTS.title).replace(/[^\x20-\x7e]/g, '?').replace(/^\s*solid/i, '_$&');
  for (let i = 0; i < Math.min(80, title.length); i++) bytes[i] = title.charCodeAt(i);
  v.setUint32(80, count, true);
  const normals = triangleNormals(mesh);
  for (let i = 0, at = HEADER; i < t.length; i += 3, at += RECORD) {
    const length = Math.sqrt(normals[i] * normals[i] + normals[i + 1] * normals[i + 1] + normals[i + 2] * normals[i + 2]);
    const scale = length > 0 ? 1 / length : 0;
    for (let k = 0; k < 3; k++) {
      v.setFloat32(at + 4 * k, normals[i + k] * scale, true);
      v.setFloat32(at + 12 + 4 * k, p[3 * t[i] + k], true);
      v.setFloat32(at + 24 + 4 * k, p[3 * t[i + 1] + k], true);
      v.setFloat32(at + 36 + 4 * k, p[3 * t[i + 2] + k], true);
    }
  }
  return bytes;
}

import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** Writers of the formats that the program only reads, plain enough to be right at sight. Independent of the readers. */

export const ascii = (text: string): Uint8Array => new TextEncoder().encode(text);

export const joined = (...parts: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
};

const rows = (numbers: ArrayLike<number>): number[][] => Array.from({ length: numbers.length / 3 }, (_, i) => [numbers[3 * i], numbers[3 * i + 1], numbers[3 * i + 2]]);

/** A binary STL with zero normals; `count` and `header` may lie. */
export function binaryStl(mesh: Mesh, { count = mesh.triangles.length / 3, header = 'made by hand' } = {}): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * (mesh.triangles.length / 3));
  const view = new DataView(bytes.buffer);
  bytes.set(ascii(header).subarray(0, 80));
  view.setUint32(80, count, true);
  mesh.triangles.forEach((v, corner) => {
    const at = 84 + 50 * Math.floor(corner / 3) + 12 + 12 * (corner % 3);
    for (let k = 0; k < 3; k++) view.setFloat32(at + 4 * k, mesh.positions[3 * v + k], true);
  });
  return bytes;
}

export function asciiStl(mesh: Mesh, { name = 'hand', eol = '\n' } = {}): Uint8Array {
  const lines = [`solid ${name}`];
  for (const triangle of rows(mesh.triangles)) {
    lines.push('  facet normal 0 0 1', '    outer loop');
    for (const v of triangle) lines.push(`      vertex ${mesh.positions[3 * v]} ${mesh.positions[3 * v + 1]} ${mesh.positions[3 * v + 2]}`);
    lines.push('    endloop', '  endfacet');
  }
  lines.push(`endsolid ${name}`, '');
  return ascii(lines.join(eol));
}

export function asciiPly(mesh: Mesh, { eol = '\n', list = 'vertex_indices' } = {}): Uint8Array {
  const lines = ['ply', 'format ascii 1.0', 'comment made by hand', `element vertex ${mesh.positions.length / 3}`, 'property double x', 'property double y', 'property double z'];
  lines.push(`element face ${mesh.triangles.length / 3}`, `property list uchar int ${list}`, 'end_header');
  for (const point of rows(mesh.positions)) lines.push(point.join(' '));
  for (const triangle of rows(mesh.triangles)) lines.push(`3 ${triangle.join(' ')}`);
  lines.push('');
  return ascii(lines.join(eol));
}

export interface BinaryPlyOptions {
  readonly little?: boolean;
  readonly eol?: string;
  /** Type of x, y, z. */
  readonly coordinate?: 'float' | 'double';
  /** Scalar properties and a list that stand between and after the coordinates. */
  readonly extras?: boolean;
}

export function binaryPly(mesh: Mesh, { little = true, eol = '\n', coordinate = 'float', extras = false }: BinaryPlyOptions = {}): Uint8Array {
  const vertices = mesh.positions.length / 3;
  const faces = mesh.triangles.length / 3;
  const width = coordinate === 'float' ? 4 : 8;
  const header = [
    'ply', `format binary_${little ? 'little' : 'big'}_endian 1.0`, `element vertex ${vertices}`, `property ${coordinate} x`,
    ...(extras ? ['property uchar red'] : []), `property ${coordinate} y`, `property ${coordinate} z`, ...(extras ? ['property int16 label', 'property list uint8 double weights'] : []),
    `element face ${faces}`, ...(extras ? ['property float quality'] : []), `property list uchar ${extras ? 'ushort' : 'int'} vertex_index`, 'end_header', '',
  ].join(eol);
  const body = new Uint8Array(vertices * (3 * width + 40) + faces * 32);
  const view = new DataView(body.buffer);
  let at = 0;
  for (const point of rows(mesh.positions)) {
    point.forEach((c, k) => {
      if (width === 4) view.setFloat32(at, c, little);
      else view.setFloat64(at, c, little);
      at += width;
      if (extras && k === 0) view.setUint8(at++, 200);
    });
    if (!extras) continue;
    view.setInt16(at, -5, little);
    view.setUint8(at + 2, 2);
    view.setFloat64(at + 3, 0.5, little);
    view.setFloat64(at + 11, 1.5, little);
    at += 19;
  }
  for (const triangle of rows(mesh.triangles)) {
    if (extras) view.setFloat32((at += 4) - 4, 0.25, little);
    view.setUint8(at++, 3);
    for (const v of triangle) {
      if (extras) view.setUint16(at, v, little);
      else view.setInt32(at, v, little);
      at += extras ? 2 : 4;
    }
  }
  return joined(ascii(header), body.subarray(0, at));
}

export function obj(mesh: Mesh, { eol = '\n' } = {}): Uint8Array {
  const lines = ['# made by hand', 'o hand'];
  for (const point of rows(mesh.positions)) lines.push(`v ${point.join(' ')}`);
  for (const triangle of rows(mesh.triangles)) lines.push(`f ${triangle.map((v) => v + 1).join(' ')}`);
  lines.push('');
  return ascii(lines.join(eol));
}

import { MeshFormatError } from './format-error.js';
import { grouped } from './mesh-file.js';

export type PlyEncoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';
export type PlyScalar = 'int8' | 'uint8' | 'int16' | 'uint16' | 'int32' | 'uint32' | 'float32' | 'float64';

export const PLY_SCALAR_BYTES: Readonly<Record<PlyScalar, number>> = {
  int8: 1, uint8: 1, int16: 2, uint16: 2, int32: 4, uint32: 4, float32: 4, float64: 8,
};

/** The names of the original format, and those that later writers use. */
const SCALAR_NAMES: ReadonlyMap<string, PlyScalar> = new Map([
  ['char', 'int8'], ['uchar', 'uint8'], ['short', 'int16'], ['ushort', 'uint16'],
  ['int', 'int32'], ['uint', 'uint32'], ['float', 'float32'], ['double', 'float64'],
  ...(Object.keys(PLY_SCALAR_BYTES) as PlyScalar[]).map((name): [string, PlyScalar] => [name, name]),
]);

export interface PlyProperty {
  readonly name: string;
  readonly type: PlyScalar;
  /** The type of the count of a list property; null for a single value. */
  readonly countType: PlyScalar | null;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: PlyProperty[];
}

export interface PlyHeader {
  readonly encoding: PlyEncoding;
  readonly elements: readonly PlyElement[];
  /** Offset of the first byte after the header. */
  readonly end: number;
}

/** A header is a few hundred bytes; one beyond this is none. */
const LONGEST_HEADER = 1 << 20;

const malformed = (problem: string): MeshFormatError => new MeshFormatError('malformed-file', problem);

/** The least bytes that a row of the element takes; text has at least one character and one space for each value. */
const leastRowBytes = (element: PlyElement, encoding: PlyEncoding): number =>
  element.properties.reduce((sum, p) => sum + (encoding === 'ascii' ? 2 : PLY_SCALAR_BYTES[p.countType ?? p.type]), 0);

/** Refuses a count that the bytes left cannot hold. `limit` is the most rows that would be read at all. */
export function checkRowsFit(element: PlyElement, encoding: PlyEncoding, bytesLeft: number, limit: number): void {
  // The last row of a text file may lack its line end.
  const room = encoding === 'ascii' ? bytesLeft + 1 : bytesLeft;
  if (element.count * leastRowBytes(element, encoding) <= room) return;
  const problem = `The header of the PLY file says ${grouped(element.count)} rows of "${element.name}", but the file is too short to hold them`;
  if (element.count > limit) throw new MeshFormatError('count-mismatch', `${problem}; the header is wrong.`);
  throw new MeshFormatError('truncated-file', `${problem}, so it is cut short.`);
}

/** Reads the header of a PLY file. Errors: truncated-file, malformed-file, unsupported-content. */
export function readPlyHeader(bytes: Uint8Array, start: number): PlyHeader {
  // Lines end as the first one does: with \n, with \r\n, or with \r alone.
  const returnsOnly = bytes[start + 3] === 13 && bytes[start + 4] !== 10;
  const lineEnd = returnsOnly ? 13 : 10;
  let encoding: PlyEncoding | null = null;
  const elements: PlyElement[] = [];
  for (let at = start; ; ) {
    let end = at;
    while (end < bytes.length && bytes[end] !== lineEnd) end++;
    if (end - start >= LONGEST_HEADER) throw malformed('The header of the PLY file has no "end_header" line.');
    const words = String.fromCharCode(...bytes.subarray(at, Math.min(end, at + 4096))).trim().split(/\s+/);
    if (words[0] === 'end_header' && (end < bytes.length || elements.every((e) => e.count === 0))) {
      if (encoding === null) throw malformed('The header of the PLY file has no "format" line.');
      return { encoding, elements, end: Math.min(end + 1, bytes.length) };
    }
    if (end >= bytes.length) throw new MeshFormatError('truncated-file', 'The PLY file ends inside its header, so it is cut short.');
    if (words[0] === 'format') encoding = readEncoding(words[1]);
    else if (words[0] === 'element') elements.push(readElement(words));
    else if (words[0] === 'property') {
      const element = elements.at(-1);
      if (element === undefined) throw malformed('The header of the PLY file has a property before the first element.');
      element.properties.push(readProperty(words));
    } else if (!['ply', 'comment', 'obj_info', ''].includes(words[0])) {
      throw malformed(`The header of the PLY file has a line that begins with "${printable(words[0])}", which means nothing there.`);
    }
    at = end + 1;
  }
}

const printable = (word: string): string => word.slice(0, 40).replace(/[^\x20-\x7e]/g, '?');

function readEncoding(word: string | undefined): PlyEncoding {
  if (word === 'ascii' || word === 'binary_little_endian' || word === 'binary_big_endian') return word;
  throw new MeshFormatError('unsupported-content', `The PLY file has the format "${printable(word ?? '')}", which is none of the three that exist.`);
}

function readElement(words: readonly string[]): PlyElement {
  if (words.length !== 3 || !/^\d{1,15}$/.test(words[2])) throw malformed(`The header of the PLY file has an element line without a name and a count.`);
  return { name: words[1], count: Number(words[2]), properties: [] };
}

function readProperty(words: readonly string[]): PlyProperty {
  const isList = words[1] === 'list';
  const scalar = (word: string | undefined): PlyScalar => {
    const type = SCALAR_NAMES.get(word ?? '');
    if (type === undefined) throw new MeshFormatError('unsupported-content', `The PLY file has a property of the unknown type "${printable(word ?? '')}".`);
    return type;
  };
  if (words.length !== (isList ? 5 : 3)) throw malformed('The header of the PLY file has a property line with too few or too many words.');
  return isList
    ? { name: words[4], type: scalar(words[3]), countType: scalar(words[2]) }
    : { name: words[2], type: scalar(words[1]), countType: null };
}

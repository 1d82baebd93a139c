import { isExactBinaryStl, looksLikeBinaryStl } from './stl.js';

/** What bytes look like, whatever the name of their file. `start` is the first byte after a byte order mark. */
export type Sniffed =
  | { readonly kind: 'stl-binary' }
  | { readonly kind: 'stl-ascii' | 'ply' | 'obj'; readonly start: number }
  | { readonly kind: 'points'; readonly start: number }
  | { readonly kind: 'foreign'; readonly name: string };

/** Marks of files that are no meshes, or meshes of a kind that is not read: offset, bytes, what to call them. */
const SIGNATURES: readonly (readonly [number, readonly number[], string])[] = [
  [0, [0x89, 0x50, 0x4e, 0x47], 'a PNG picture'],
  [0, [0xff, 0xd8, 0xff], 'a JPEG picture'],
  [0, [0x47, 0x49, 0x46, 0x38], 'a GIF picture'],
  [0, [0x49, 0x49, 0x2a, 0x00], 'a TIFF picture'],
  [0, [0x4d, 0x4d, 0x00, 0x2a], 'a TIFF picture'],
  [8, [0x57, 0x45, 0x42, 0x50], 'a WebP picture'],
  [4, [0x66, 0x74, 0x79, 0x70], 'a HEIC picture or an MP4 video'],
  [0, [0x25, 0x50, 0x44, 0x46], 'a PDF document'],
  [0, [0x50, 0x4b, 0x03, 0x04], 'a zip archive (3MF and office documents are such archives, too)'],
  [0, [0x50, 0x4b, 0x05, 0x06], 'an empty zip archive'],
  [0, [0x1f, 0x8b], 'a gzip archive'],
  [0, [0x42, 0x5a, 0x68], 'a bzip2 archive'],
  [0, [0xfd, 0x37, 0x7a, 0x58, 0x5a], 'an xz archive'],
  [0, [0x28, 0xb5, 0x2f, 0xfd], 'a zstd archive'],
  [0, [0x37, 0x7a, 0xbc, 0xaf], 'a 7z archive'],
  [0, [0x52, 0x61, 0x72, 0x21], 'a RAR archive'],
  [0, [0x67, 0x6c, 0x54, 0x46], 'a binary glTF file'],
  [0, [0x41, 0x53, 0x54, 0x4d, 0x2d, 0x45, 0x35, 0x37], 'an E57 point cloud'],
  [0, [0x49, 0x53, 0x4f, 0x2d, 0x31, 0x30, 0x33, 0x30, 0x33], 'a STEP file'],
  [0, [0x7f, 0x45, 0x4c, 0x46], 'a program'],
  [0, [0x4d, 0x5a, 0x90, 0x00], 'a program'],
  [0, [0xff, 0xfe], 'a text in UTF-16'],
  [0, [0xfe, 0xff], 'a text in UTF-16'],
];

/** How much of a file is looked at to tell text from binary, and to find the first statement of an OBJ file. */
const TEXT_SAMPLE = 4096;
const OBJ_SAMPLE = 1 << 20;

/** Tells what the bytes are by their content alone. The size of a binary STL decides before any signature. */
export function sniff(bytes: Uint8Array): Sniffed {
  if (isExactBinaryStl(bytes)) return { kind: 'stl-binary' };
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const sample = latin1(bytes, start, TEXT_SAMPLE);
  if (/^ply[ \t]*[\r\n]/.test(sample)) return { kind: 'ply', start };
  for (const [offset, mark, name] of SIGNATURES) {
    if (mark.every((byte, k) => bytes[offset + k] === byte)) return { kind: 'foreign', name };
  }
  if (bytes.every((byte) => byte === 0)) return { kind: 'foreign', name: 'nothing but zeros, as left by a copy that broke off' };
  // eslint-disable-next-line no-control-regex
  if (/[\x00-\x08\x0e-\x19\x1b-\x1f]/.test(sample)) {
    return looksLikeBinaryStl(bytes) ? { kind: 'stl-binary' } : { kind: 'foreign', name: 'a binary file of an unknown kind' };
  }
  if (/^\s*solid\b/i.test(sample)) return { kind: 'stl-ascii', start };
  if (sample.trim() === '') return { kind: 'foreign', name: 'a text without words' };
  if (/^\s*<(!doctype\s+html|html)/i.test(sample)) return { kind: 'foreign', name: 'an HTML page' };
  if (/^\s*</.test(sample)) return { kind: 'foreign', name: 'an XML document' };
  if (/^\s*[{[]/.test(sample)) return { kind: 'foreign', name: 'a JSON document' };
  if (/^[ \t]*v[ \t]+[-+.\d]/m.test(latin1(bytes, start, OBJ_SAMPLE))) return { kind: 'obj', start };
  if (/^\s*([#/;].*[\r\n]\s*)*(\d+[ \t]*[\r\n]\s*)?([-+]?\d[-+.\de]*[ \t,;]+){2}[-+]?\d/i.test(sample)) return { kind: 'points', start };
  return { kind: 'foreign', name: 'a text' };
}

function latin1(bytes: Uint8Array, start: number, length: number): string {
  let out = '';
  for (let i = start; i < Math.min(bytes.length, start + length); i += 8192) {
    out += String.fromCharCode(...bytes.subarray(i, Math.min(i + 8192, bytes.length, start + length)));
  }
  return out;
}

import { describe, expect, it } from 'vitest';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { ascii, joined } from '../../support/mesh-files.ts';
import { rng } from '../../support/rng.ts';

const random = rng(5);
/** Noise as the compressed body of a picture or archive. */
const noise = Uint8Array.from({ length: 5000 }, () => random.below(256));
const marked = (...head: number[]): Uint8Array => joined(Uint8Array.from(head), noise);

/** Signatures as their formats' specifications give them. */
describe('files that are no meshes are refused by name, whatever their name says', () => {
  it.each([
    ['PNG picture', marked(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)],
    ['JPEG picture', marked(0xff, 0xd8, 0xff, 0xe0)],
    ['GIF picture', joined(ascii('GIF89a'), noise)],
    ['WebP picture', joined(ascii('RIFF1234WEBPVP8 '), noise)],
    ['HEIC picture', joined(Uint8Array.of(0, 0, 0, 24), ascii('ftypheic'), noise)],
    ['PDF document', joined(ascii('%PDF-1.7\n'), noise)],
    ['zip archive', marked(0x50, 0x4b, 0x03, 0x04)],
    ['gzip archive', marked(0x1f, 0x8b, 0x08, 0x00)],
    ['binary glTF', joined(ascii('glTF'), noise)],
    ['HTML page', ascii('\n<!DOCTYPE html>\n<html><body>Log in</body></html>')],
    ['XML document', ascii('<?xml version="1.0"?><model/>')],
    ['JSON document', ascii('{"v": [1, 2, 3]}')],
    ['UTF-16', joined(Uint8Array.of(0xff, 0xfe), ascii('s\0o\0l\0i\0d\0'))],
    ['a text', ascii('Dear workshop,\nvery nice shoes.\n')],
    ['text without words', ascii('\n \n')],
    ['binary file of an unknown kind', noise],
    ['nothing but zeros', new Uint8Array(3000)],
  ])('%s', (name, bytes) => {
    expect(() => readMesh(bytes)).toThrow(expect.objectContaining({ code: 'not-a-mesh-file', message: expect.stringContaining(name) as string }));
  });
  it('an empty file', () => {
    expect(() => readMesh(new Uint8Array(0))).toThrow(expect.objectContaining({ code: 'empty-file' }));
  });
  it.each(['1.0 2.0 3.0\n4 5 6\n', '# x y z\n1,2,3\n', '3\n1 2 3 255 255 255\n', '-1e3;2;3'])('a list of points: %j', (text) => {
    expect(() => readMesh(ascii(text))).toThrow(expect.objectContaining({ code: 'point-cloud' }));
  });
  it('every single byte', () => {
    for (let byte = 0; byte < 256; byte++) expect(() => readMesh(Uint8Array.of(byte))).toThrow(expect.objectContaining({ name: 'MeshFormatError' }));
  });
});

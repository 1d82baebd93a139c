import { describe, expect, it } from 'vitest';
import { countTriangles } from '@cast-to-last/geometry/formats/count-triangles';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { icosphere } from '../../support/meshes.js';
import { rng } from '../../support/rng.js';

const mesh = icosphere(10, 4);
const { positions: p, triangles: t } = mesh;
const COUNT = t.length / 3;
const vertices = Array.from({ length: p.length / 3 }, (_, v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]]);
const text = (value: string): Uint8Array => new TextEncoder().encode(value);
const faces = Array.from({ length: COUNT }, (_, i) => [t[3 * i], t[3 * i + 1], t[3 * i + 2]]);
const vertexLine = (v: number): string => `vertex ${vertices[v].join(' ')}`;

const FILES: Record<string, Uint8Array> = {
  'binary STL': writeStl(mesh),
  'binary STL that begins with "solid"': writeStl(mesh, { title: 'solid shoe' }),
  'ASCII STL': text(`solid x\n${faces.map((f) => `facet normal 0 0 1\n outer loop\n${f.map(vertexLine).join('\n')}\n endloop\nendfacet`).join('\n')}\nendsolid x\n`),
  OBJ: text(`${vertices.map((v) => `v ${v.join(' ')}`).join('\n')}\n${faces.map((f) => `f ${f.map((v) => `${v + 1}//${v + 1}`).join(' ')}`).join('\r\n')}\n`),
  PLY: text(`ply\nformat ascii 1.0\ncomment by a test\nelement vertex ${vertices.length}\nproperty float x\nproperty float y\nproperty float z\nelement face ${COUNT}\nproperty list uchar int vertex_indices\nend_header\n${vertices.map((v) => v.join(' ')).join('\n')}\n`),
};

describe.each(Object.entries(FILES))('the triangles of a %s', (_name, bytes) => {
  it.each([bytes.length, 1000, 61])('are counted while it comes in, in chunks of up to %i bytes', (most) => {
    const random = rng(most);
    const counter = countTriangles();
    let count = 0;
    for (let at = 0; at < bytes.length; ) {
      const end = Math.min(bytes.length, at + 1 + Math.floor(random.range(0, most)));
      const next = counter.see(bytes.subarray(at, end));
      expect(next).toBeGreaterThanOrEqual(count);
      count = next;
      at = end;
    }
    expect(count).toBe(COUNT);
  });
});

it('polygons of an OBJ count as the triangles that they give', () => {
  const filler = '# a line that only fills the beginning\n'.repeat(150);
  expect(countTriangles().see(text(`${filler}f 1 2 3 4 5\nf 1 2 3\n  f 1 2 3 4\n`))).toBe(6);
});

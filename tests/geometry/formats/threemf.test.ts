import { describe, expect, it } from 'vitest';
import { writeThreeMf, writeThreeMfModel } from '@cast-to-last/geometry/formats/threemf';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { box, icosphere } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';
import { readThreeMf } from '../../support/read-threemf.ts';
import { unzip } from '../../support/unzip.ts';

const MODEL = '3D/3dmodel.model';
const text = async (bytes: Uint8Array, part: string): Promise<string> => {
  const found = (await unzip(bytes)).get(part);
  if (found === undefined) throw new Error(`The package has no part ${part}.`);
  return new TextDecoder('utf-8', { fatal: true }).decode(found);
};

/** Every element with its attributes, in order, and a check that tags nest; for XML without comments and CDATA. */
function elements(xml: string): { name: string; attributes: Map<string, string>; inside: string }[] {
  const out: { name: string; attributes: Map<string, string>; inside: string }[] = [];
  const open: string[] = [];
  const body = xml.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\s*/, '');
  for (const [, slash, name, attributes, selfClosed] of body.matchAll(/<(\/?)([A-Za-z]+)((?:\s+[A-Za-z:0-9]+="[^"<]*")*)\s*(\/?)>/g)) {
    if (slash !== '') {
      expect(open.pop()).toBe(name);
      continue;
    }
    out.push({ name, inside: open.join('/'), attributes: new Map([...attributes.matchAll(/([A-Za-z:0-9]+)="([^"]*)"/g)].map(([, key, value]) => [key, value])) });
    if (selfClosed === '') open.push(name);
  }
  expect(open).toEqual([]);
  return out;
}

describe('3MF, by the rules of the core specification 1.4', () => {
  it('is a package with content types, a root relationship, and the model it names', async () => {
    const bytes = await writeThreeMf(box(1, 2, 3));
    const parts = await unzip(bytes);
    expect([...parts.keys()]).toEqual(['[Content_Types].xml', '_rels/.rels', MODEL]);
    const types = elements(await text(bytes, '[Content_Types].xml'));
    const typeOf = (extension: string): string | undefined => types.find((e) => e.attributes.get('Extension') === extension)?.attributes.get('ContentType');
    expect(typeOf('rels')).toBe('application/vnd.openxmlformats-package.relationships+xml');
    expect(typeOf('model')).toBe('application/vnd.ms-package.3dmanufacturing-3dmodel+xml');
    const [, relationship] = elements(await text(bytes, '_rels/.rels'));
    expect(relationship.attributes.get('Target')).toBe(`/${MODEL}`);
    expect(relationship.attributes.get('Type')).toBe('http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel');
  });
  it('holds one object of type "model" in millimetres, with the mesh as it was', async () => {
    const mesh = icosphere(123.456, 3);
    const all = elements(await text(await writeThreeMf(mesh), MODEL));
    const [model] = all;
    expect(model.name).toBe('model');
    expect(model.attributes.get('unit')).toBe('millimeter');
    expect(model.attributes.get('xmlns')).toBe('http://schemas.microsoft.com/3dmanufacturing/core/2015/02');
    const [object] = all.filter((e) => e.name === 'object');
    expect([object.inside, object.attributes.get('type')]).toEqual(['model/resources', 'model']);
    expect(all.filter((e) => e.name === 'item').map((e) => [e.inside, e.attributes.get('objectid')])).toEqual([['model/build', object.attributes.get('id')]]);

    const vertices = all.filter((e) => e.name === 'vertex');
    const triangles = all.filter((e) => e.name === 'triangle');
    expect(vertices.length).toBe(mesh.positions.length / 3);
    expect(vertices[0].inside).toBe('model/resources/object/mesh/vertices');
    expect(triangles[0].inside).toBe('model/resources/object/mesh/triangles');
    vertices.forEach((v, i) => ['x', 'y', 'z'].forEach((axis, k) => {
      const written = v.attributes.get(axis) ?? '';
      expect(written).toMatch(/^-?\d+(\.\d+)?$/);
      expect(Math.abs(Number(written) - mesh.positions[3 * i + k])).toBeLessThanOrEqual(0.5e-5 + 1e-9);
    }));
    expect(triangles.flatMap((t) => ['v1', 'v2', 'v3'].map((key) => Number(t.attributes.get(key))))).toEqual([...mesh.triangles]);

    // Edge-manifold, consistently oriented: every edge once in each direction.
    const edges = new Set<string>();
    for (const t of triangles) {
      const [a, b, c] = ['v1', 'v2', 'v3'].map((key) => t.attributes.get(key));
      expect(new Set([a, b, c]).size).toBe(3);
      for (const edge of [`${a}>${b}`, `${b}>${c}`, `${c}>${a}`]) {
        expect(edges.has(edge)).toBe(false);
        edges.add(edge);
      }
    }
    for (const edge of edges) expect(edges.has(edge.split('>').reverse().join('>'))).toBe(true);
  });
  it('writes every decimal right (seed 91)', async () => {
    const random = rng(91);
    const special = [0, -0, 1, -1, 0.000005, -0.000004, 0.1, 99999.99999, 123456789, -1e9, 10, 100, 0.5, 1e-9, 9.999996];
    const positions = Float64Array.from({ length: 3000 }, (_, i) => special[i] ?? random.normal() * 10 ** random.range(-6, 5));
    const all = elements(await text(await writeThreeMf({ positions, triangles: new Uint32Array([0, 1, 2]) }), MODEL)).filter((e) => e.name === 'vertex');
    all.forEach((v, i) => ['x', 'y', 'z'].forEach((axis, k) => {
      const written = Number(v.attributes.get(axis));
      expect(Math.abs(written - positions[3 * i + k]), `${v.attributes.get(axis)} for ${positions[3 * i + k]}`).toBeLessThanOrEqual(0.500001e-5);
      expect(Object.is(written, -0)).toBe(false);
    }));
  });
  it('carries the title, escaped, and nothing that XML does not allow', async () => {
    const xml = await text(await writeThreeMf(box(1, 1, 1), { title: 'Order "7" <left> & Größe\u0000\u0007\ud800' }), MODEL);
    expect(xml).toContain('<metadata name="Title">Order &#34;7&#34; &#60;left&#62; &#38; Größe</metadata>');
    expect(xml).toContain('<metadata name="Application">cast-to-last</metadata>');
  });
  it('same mesh, same bytes, whatever the time', async () => {
    const first = await writeThreeMf(icosphere(5, 2));
    await new Promise((resolve) => setTimeout(resolve, 2100));
    expect(await writeThreeMf(icosphere(5, 2))).toEqual(first);
  });
  it('keeps the bounds of a mesh of the size of a foot', async () => {
    const all = elements(await text(await writeThreeMf(box(265.5, 101.25, 134.125)), MODEL)).filter((e) => e.name === 'vertex');
    const positions = Float64Array.from(all.flatMap((v) => ['x', 'y', 'z'].map((axis) => Number(v.attributes.get(axis)))));
    expect([...bounds(positions)]).toEqual([-132.75, -50.625, -67.0625, 132.75, 50.625, 67.0625]);
  });
  it('has not changed its bytes for one object since 0.1.0', async () => {
    const mesh = { positions: Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1.5]), triangles: Uint32Array.from([0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2]) };
    expect(await text(await writeThreeMf(mesh, { title: 'A & B' }), MODEL)).toBe(
      '<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">\n' +
        '<metadata name="Title">A &#38; B</metadata>\n<metadata name="Application">cast-to-last</metadata>\n<resources>\n<object id="1" type="model" name="A &#38; B">\n<mesh>\n<vertices>\n' +
        '<vertex x="0" y="0" z="0"/>\n<vertex x="1" y="0" z="0"/>\n<vertex x="0" y="1" z="0"/>\n<vertex x="0" y="0" z="1.5"/>\n</vertices>\n<triangles>\n' +
        '<triangle v1="0" v2="2" v3="1"/>\n<triangle v1="0" v2="1" v3="3"/>\n<triangle v1="1" v2="2" v3="3"/>\n<triangle v1="0" v2="3" v3="2"/>\n</triangles>\n</mesh>\n</object>\n</resources>\n' +
        '<build>\n<item objectid="1"/>\n</build>\n</model>\n',
    );
  });
  it('holds several objects, each built once, with what is known of them in a namespace of its own', async () => {
    const meshes = [icosphere(12.5, 2), box(1, 2, 3)];
    const model = await readThreeMf(
      await writeThreeMfModel(
        [{ name: 'heel "1" <left>', mesh: meshes[0], metadata: { sizeMm: '25 25 25', note: 'a & b' } }, { name: 'fore', mesh: meshes[1] }],
        { title: 'Last 4107, left', description: 'heel and fore', metadata: { order: '4107' } },
      ),
    );
    expect(model.unit).toBe('millimeter');
    const prefix = Object.keys(model.namespaces).find((key) => key !== '');
    expect(model.namespaces['']).toBe('http://schemas.microsoft.com/3dmanufacturing/core/2015/02');
    expect(model.metadata).toEqual({ Title: 'Last 4107, left', Description: 'heel and fore', Application: 'cast-to-last', [`${prefix}:order`]: '4107' });
    expect(model.objects.map((o) => [o.id, o.name, o.type])).toEqual([[1, 'heel "1" <left>', 'model'], [2, 'fore', 'model']]);
    expect(model.objects.map((o) => o.metadata)).toEqual([{ [`${prefix}:sizeMm`]: '25 25 25', [`${prefix}:note`]: 'a & b' }, {}]);
    expect(model.built).toEqual([1, 2]);
    model.objects.forEach(({ mesh }, i) => {
      expect(mesh.triangles).toEqual(meshes[i].triangles);
      mesh.positions.forEach((c, k) => expect(Math.abs(c - meshes[i].positions[k])).toBeLessThan(6e-6));
    });
  });
});

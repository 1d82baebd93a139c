import { beforeAll, describe, expect, it } from 'vitest';
import { connectedPieces } from '@cast-to-last/geometry/mesh/components';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { weld } from '@cast-to-last/geometry/repair/weld';
import type { Making } from '@cast-to-last/pipeline/making/making-files';
import { MAKING_FILES, makingFiles } from '@cast-to-last/pipeline/making/making-files';
import type { MakingReport } from '@cast-to-last/pipeline/making/making-report';
import { makingRules } from '@cast-to-last/pipeline/rules/making-rules';
import { footBlob } from '../../support/foot-blob.ts';
import { makingFaults, millingFaults } from '../../support/making-schema.ts';
import type { ReadModel } from '../../support/read-threemf.ts';
import { readThreeMf } from '../../support/read-threemf.ts';

const BED = [200, 120, 200] as const;
const header = { orderNumber: '4107 <a&b>', side: 'left', rules: { name: 'house rules', version: '3', sha256: 'a'.repeat(64) }, programVersion: '0.1.0' } as const;
const rules = makingRules.parse({ print: { body: 'hollow', wallMm: 4, split: { by: 'wedge', leanDeg: 5 }, bedMm: [...BED] }, milling: { stockMm: 4 } });

let last: Mesh;
let making: Making;
let models: ReadModel[];
let report: MakingReport;

const bytes = (name: string): Uint8Array => {
  const found = making.files.find((f) => f.name === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found.bytes;
};
const text = (name: string): string => new TextDecoder().decode(bytes(name));

beforeAll(async () => {
  last = await withSolids((scope) => scope.ofMesh(footBlob(6)).trimByPlane([0, 0, -1], -90).toMesh());
  making = await makingFiles(last, rules, header);
  report = JSON.parse(text('making.json'));
  models = await Promise.all(report.print.plates.map(({ file }) => readThreeMf(bytes(file))));
}, 120_000);

describe('the files for making', () => {
  it('are a 3MF a plate, an STL a piece, the plan and the figures, and known by their names', () => {
    const names = making.files.map((f) => f.name);
    expect(names).toEqual([...report.print.plates.map((p) => p.file), 'print-wedge.stl', 'print-heel.stl', 'print-fore.stl', 'plan.svg', 'milling.json', 'making.json']);
    expect(names.every((name) => MAKING_FILES.test(name))).toBe(true);
    expect(['last.stl', 'report.json', 'printer.txt', 'my print-1.stl'].some((name) => MAKING_FILES.test(name))).toBe(false);
  });
  it('in 3MF hold each piece once: closed, manifold, outward, in one part, in millimetres, on the bed', () => {
    const objects = models.flatMap((m) => m.objects);
    expect(objects.map((o) => o.name).sort()).toEqual(['fore', 'heel', 'wedge']);
    for (const model of models) {
      expect(model.unit).toBe('millimeter');
      expect(model.built).toEqual(model.objects.map((o) => o.id));
      expect(model.metadata.Title).toContain('Last 4107 <a&b>, left');
    }
    for (const { name, type, mesh } of objects) {
      const piece = report.print.pieces.find((p) => p.name === name);
      if (piece === undefined) throw new Error(name);
      expect(type).toBe('model');
      const twin = twins(mesh);
      expect(twin.every((h) => h >= 0)).toBe(true);
      expect(connectedPieces(twin).count).toBe(1);
      expect(signedVolume(mesh) / piece.volume).toBeCloseTo(1, 4);
      const b = bounds(mesh.positions);
      expect(Math.min(b[0], b[1], b[2])).toBeGreaterThan(-1e-3);
      BED.forEach((size, k) => expect(b[3 + k]).toBeLessThan(size));
      piece.size.forEach((size, k) => expect(b[3 + k] - b[k]).toBeCloseTo(size, 2));
    }
  });
  it('name in each object its piece, wall and overhang, as making.json has them', () => {
    for (const model of models) {
      const [prefix] = Object.entries(model.namespaces).find(([key, value]) => key !== '' && value.startsWith('urn:')) ?? [];
      expect(model.metadata[`${prefix}:order`]).toBe('4107 <a&b>');
      for (const { name, metadata } of model.objects) {
        const piece = report.print.pieces.find((p) => p.name === name);
        expect(metadata[`${prefix}:piece`]).toBe(name);
        expect(metadata[`${prefix}:body`]).toBe('hollow');
        expect(Number(metadata[`${prefix}:wallLeastMm`])).toBeCloseTo(piece?.wall?.least ?? NaN, 2);
        expect(Number(metadata[`${prefix}:overhangMm2`])).toBeCloseTo(piece?.overhang.area ?? NaN, 1);
      }
    }
  });
  it('in STL are the same pieces', () => {
    for (const piece of report.print.pieces) {
      const { mesh } = weld(readMesh(bytes(piece.file)).mesh, 1e-9);
      expect(twins(mesh).every((h) => h >= 0)).toBe(true);
      expect(signedVolume(mesh) / piece.volume).toBeCloseTo(1, 4);
      expect(piece.written).toMatchObject({ triangles: mesh.triangles.length / 3, closed: true, pieces: 1 });
    }
  });
  it('say where a piece came from: its transform takes the last to the bed', () => {
    for (const piece of report.print.pieces) {
      const { mesh } = weld(readMesh(bytes(piece.file)).mesh, 1e-9);
      const all = bounds(transformPositions(Float64Array.from(piece.transform), last.positions));
      const b = bounds(mesh.positions);
      for (let k = 0; k < 3; k++) {
        expect(b[k]).toBeGreaterThan(all[k] - 1e-3);
        expect(b[3 + k]).toBeLessThan(all[3 + k] + 1e-3);
      }
    }
  });
  it('choose the least overhang of all orientations that fit', () => {
    for (const { overhang, size } of report.print.pieces) {
      const fitting = overhang.tried.filter((t) => t.fits);
      expect(fitting.length).toBeGreaterThan(5);
      expect(overhang.area).toBeLessThanOrEqual(Math.min(...fitting.map((t) => t.area)) + 25);
      size.forEach((s, k) => expect(s).toBeLessThanOrEqual(BED[k]));
    }
  });
  it('fit their schemas, and have the blank in both', () => {
    expect(makingFaults(report)).toEqual([]);
    const milling = JSON.parse(text('milling.json'));
    expect(millingFaults(milling)).toEqual([]);
    expect(milling.milling).toEqual(report.milling);
    const b = bounds(transformPositions(Float64Array.from(report.milling.transform), last.positions));
    for (let k = 0; k < 3; k++) expect(b[3 + k] - b[k]).toBeCloseTo(report.milling.last[k], 3);
    expect(Math.min(b[0] - report.milling.hold.start, b[1], b[2])).toBeGreaterThan(3.999);
    expect(makingFaults({ ...report, extra: 1 })).not.toEqual([]);
  });
  it('draw every plate and piece, and the blank, to half size', () => {
    const svg = text('plan.svg');
    for (const { name } of report.print.pieces) expect(svg).toContain(`>${name}</text>`);
    expect(svg.match(/<g transform="translate\([^)]*\) scale\(0\.5 -0\.5\)">/g)).toHaveLength(report.print.plates.length + 2);
    expect(svg).toContain('4107 &#60;a&#38;b&#62;');
    expect(svg.match(/<path d="M[^"]+Z"/g)?.length).toBe(report.print.pieces.length + 2);
  });
  it('are the same bytes for the same last', async () => {
    const again = await makingFiles(last, rules, header);
    again.files.forEach((file, i) => expect(Buffer.from(file.bytes).equals(making.files[i].bytes)).toBe(true));
  }, 60_000);
});

import { describe, expect, it } from 'vitest';
import { readBinaryStl } from '@cast-to-last/geometry/formats/stl';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { CAST_FILE_NAMES, castFiles } from '@cast-to-last/pipeline/files/cast-files';
import { cleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import { surfaceFiles } from '@cast-to-last/pipeline/files/surface-files';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { buildReport } from '@cast-to-last/pipeline/report/report';
import { reviewGlb, signedChange, standingScan } from '@cast-to-last/pipeline/files/review-glb';
import { handMadeOutcome } from '../../support/hand-made-outcome.js';
import { icosphere } from '../../support/meshes.js';

/** A ball of 50 mm of which smoothing pushed the vertices above z = 40 outward by 1.5 mm, and lifted by 5 mm to settle. */
function ballOutcome(): CastOutcome {
  const outcome = handMadeOutcome();
  const mesh = icosphere(50, 3);
  const moved = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => (mesh.positions[3 * v + 2] > 40 ? 1 : 0));
  const positions = mesh.positions.map((c, i) => (moved[Math.floor(i / 3)] === 1 ? (c * 51.5) / 50 : c));
  const settle = outcome.measured.settle.slice();
  settle.set([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 5]);
  const smoothed = { mesh: { positions, triangles: mesh.triangles }, moved, warnings: [] };
  const settled = { positions: transformPositions(settle, positions), triangles: mesh.triangles };
  return {
    ...outcome,
    scan: { ...outcome.scan, mesh },
    aligned: { ...outcome.aligned, mesh },
    smoothed,
    measured: { ...outcome.measured, mesh: settled, settle, transform: settle },
    last: { ...outcome.last, mesh: settled },
  };
}

interface Glb { readonly nodes: { name: string; mesh: number; extras?: object }[]; readonly accessors: { min?: number[]; max?: number[] }[] }

function glbJson(bytes: Uint8Array): Glb {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  return JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + view.getUint32(12, true))));
}

const reviewOf = (outcome: CastOutcome): Uint8Array => reviewGlb(standingScan(outcome), outcome.measured.mesh, signedChange(outcome));

describe('signedChange', () => {
  it('is 1.5 mm outward where the ball was raised, and exactly 0 elsewhere', () => {
    const outcome = ballOutcome();
    const change = signedChange(outcome);
    change.forEach((c, v) => {
      if (outcome.smoothed.moved[v] === 0) expect(c).toBe(0);
      else expect(Math.abs(c - 1.5)).toBeLessThan(0.02);
    });
    expect(change.some((c) => c > 1.45)).toBe(true);
  });

  it('is negative where the surface went in', () => {
    const outcome = ballOutcome();
    const inward = { aligned: { ...outcome.aligned, mesh: outcome.smoothed.mesh }, smoothed: { ...outcome.smoothed, mesh: outcome.aligned.mesh } };
    expect(Math.min(...signedChange(inward))).toBeLessThan(-1.45);
  });
});

describe('reviewGlb', () => {
  it('holds the scan and the cleaned cast in the foot frame, with the range of the colours', () => {
    const json = glbJson(reviewOf(ballOutcome()));
    const names = json.nodes.filter((n) => n.mesh !== undefined).map((n) => n.name);
    expect(names).toEqual(['scan', 'cleaned']);
    const heights = json.accessors.filter((a) => a.min?.length === 3).map((a) => (a.max as number[])[2]);
    expect(heights[0]).toBeCloseTo(55, 3);
    expect(heights[1]).toBeCloseTo(56.5, 3);
    expect(json.nodes.find((n) => n.name === 'cleaned')?.extras).toMatchObject({ rangeMm: 2 });
  });
});

describe('castFiles', () => {
  it('are all files by their names, sheet and note only where there are', async () => {
    const outcome = ballOutcome();
    const report = buildReport(outcome, { fileName: 'a.stl', programVersion: '0', stages: [] });
    const surfaces = await surfaceFiles(cleanedSurfaces(outcome), outcome.last.mesh);
    const all = castFiles(outcome, report, { surfaces, sheet: { pdf: new Uint8Array([1, 2]), json: new Uint8Array([4]) }, note: new Uint8Array([3]) });
    expect(all.map((f) => f.name)).toEqual([...CAST_FILE_NAMES]);
    for (const { name, bytes } of all) expect(bytes.length, name).toBeGreaterThan(0);
    const without = castFiles(outcome, report, { surfaces, sheet: null, note: null });
    expect(without.map((f) => f.name)).toEqual(CAST_FILE_NAMES.filter((n) => n !== 'sheet.pdf' && n !== 'sheet.json' && n !== 'recast-note.pdf'));
  });

  it('write the cleaned cast in the settled frame', async () => {
    const outcome = ballOutcome();
    const files = await surfaceFiles(cleanedSurfaces(outcome), Promise.resolve(outcome.last.mesh));
    const cleaned = files.find((f) => f.name === 'cleaned.stl')?.bytes as Uint8Array;
    const { mesh } = readBinaryStl(cleaned, 1e6);
    expect(mesh.triangles.length).toBe(outcome.measured.mesh.triangles.length);
    expect(Math.max(...mesh.positions.filter((_, i) => i % 3 === 2))).toBeCloseTo(56.5, 3);
  });
});

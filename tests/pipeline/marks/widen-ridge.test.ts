import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { findCrests } from '@cast-to-last/pipeline/marks/crests';
import { FairSurface } from '@cast-to-last/pipeline/marks/fair-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { dropShadows, linkRidges } from '@cast-to-last/pipeline/marks/ridges';
import { spreadAlong } from '@cast-to-last/pipeline/marks/spread-along';
import { WIDEN, widenRidge } from '@cast-to-last/pipeline/marks/widen-ridge';
import { gridPlane } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

/** A bowl of 80 mm radius on which a bandage's edge runs along x: `left` mm wide on one side of its crest and `right` on the other. */
function bowlWithEdge(height: number, left: number, right: number): Mesh {
  const random = rng(5);
  const sheet = gridPlane(200, 200, 120);
  const p = sheet.positions.map((c, i) => (i % 3 === 2 || Math.abs(c) > 59.9 ? c : c + random.range(-0.2, 0.2)));
  for (let i = 0; i < p.length; i += 3) {
    const [x, y] = [p[i], p[i + 1]];
    const u = Math.abs(y) / (y > 0 ? left : right);
    const fade = Math.min(1, Math.max(0, (35 - Math.abs(x)) / 6));
    p[i + 2] = (x * x + y * y) / 160 + (u < 1 ? 0.5 * height * fade * (1 + Math.cos(Math.PI * u)) : 0);
  }
  return { positions: p, triangles: sheet.triangles };
}

function widened(mesh: Mesh) {
  const surface = inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), false);
  const ridges = dropShadows(surface, linkRidges(surface, findCrests(surface), 0.02, () => true), new Uint32Array(0));
  const fair = new FairSurface(surface);
  return ridges.map((ridge) => {
    const whole = widenRidge(surface, fair, ridge, 0.02);
    const across = (set: Uint32Array): number[] => [...set].filter((v) => Math.abs(surface.mesh.positions[3 * v]) < 15).map((v) => surface.mesh.positions[3 * v + 1]).sort((a, b) => a - b);
    return { ridge, whole, crest: across(ridge.vertices), flanks: across(whole.vertices) };
  });
}

describe('the flanks of a ridge', () => {
  it.each([[0.9, 4, 11], [0.9, 11, 4], [0.7, 4, 8], [1.3, 5, 5]])('%f mm high, that runs out over %i mm on one side and %i on the other, are taken in', (height, left, right) => {
    const [{ ridge, whole, flanks }] = widened(bowlWithEdge(height, left, right));
    // A cosine stands off by less than a sixth of its height over the outer quarter of its flank.
    expect(flanks[flanks.length - 1]).toBeGreaterThan(0.55 * left);
    expect(flanks[flanks.length - 1]).toBeLessThan(left + 2);
    expect(-flanks[0]).toBeGreaterThan(0.55 * right);
    expect(-flanks[0]).toBeLessThan(right + 2);
    expect(whole.height).toBe(ridge.height);
    expect(whole.width).toBeGreaterThan(ridge.width);
    expect(whole.area).toBeGreaterThan(ridge.area);
    expect([...whole.vertices]).toEqual(expect.arrayContaining([...ridge.vertices]));
  });

  it('of a sharp crest on a broad back are those of the crest, not the back', () => {
    const back = bowlWithEdge(0.9, 4, 4);
    for (let i = 0; i < back.positions.length; i += 3) back.positions[i + 2] += 6 * Math.exp(-((back.positions[i + 1] / 14) ** 2));
    const [{ flanks }] = widened(back);
    expect(flanks[0]).toBeGreaterThan(-6);
    expect(flanks[flanks.length - 1]).toBeLessThan(6);
  });

  it('end with the reach, even on a roof that has no end', () => {
    const roof = gridPlane(200, 200, 120);
    for (let i = 0; i < roof.positions.length; i += 3) roof.positions[i + 2] = -0.5 * Math.hypot(roof.positions[i + 1], 2);
    const edges = widened(roof);
    expect(edges.length).toBeGreaterThan(0);
    for (const { crest, flanks } of edges) {
      expect(flanks[0]).toBeGreaterThan(crest[0] - WIDEN.reach);
      expect(flanks[flanks.length - 1]).toBeLessThan(crest[crest.length - 1] + WIDEN.reach);
    }
  });
});

describe('places spread along a set', () => {
  it('leave none of it farther than the reach from one of them', () => {
    const sheet = gridPlane(40, 40, 60);
    const surface = inspectionSurface(sheet, new Uint8Array(sheet.positions.length / 3), false);
    const p = surface.mesh.positions;
    const line = Uint32Array.from([...surface.areas.keys()].filter((v) => Math.abs(p[3 * v + 1]) < 2));
    const chosen = spreadAlong(surface, line, 9, line[3]);
    expect(chosen[0]).toBe(line[3]);
    for (const v of line) expect(Math.min(...chosen.map((c) => Math.hypot(p[3 * v] - p[3 * c], p[3 * v + 1] - p[3 * c + 1])))).toBeLessThanOrEqual(9);
    expect(chosen.length).toBeLessThan(12);
    expect(spreadAlong(surface, line, 1000)).toEqual([line[0]]);
  });
});

import { describe, expect, it } from 'vitest';
import type { FoundMark } from '@cast-to-last/pipeline/marks/found-mark';
import { edgeBeside } from '@cast-to-last/pipeline/marks/edge-foot';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { gridPlane } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

/** A bowl of 80 mm radius with a line along x that stands off by a height at each y, mm. */
function bowlWith(heightAt: (y: number) => number): InspectionSurface {
  const random = rng(11);
  const sheet = gridPlane(200, 200, 120);
  const p = sheet.positions.map((c, i) => (i % 3 === 2 || Math.abs(c) > 59.9 ? c : c + random.range(-0.2, 0.2)));
  for (let i = 0; i < p.length; i += 3) {
    const [x, y] = [p[i], p[i + 1]];
    p[i + 2] = (x * x + y * y) / 160 + heightAt(y) * Math.min(1, Math.max(0, (30 - Math.abs(x)) / 6));
  }
  return inspectionSurface({ positions: p, triangles: sheet.triangles }, new Uint8Array(p.length / 3), false);
}

/** The line of what lies between two breadths, as found. */
function lineOf(surface: InspectionSurface, from: number, to: number, depth: number): FoundMark {
  const p = surface.mesh.positions;
  const vertices = Uint32Array.from(surface.areas.keys()).filter((v) => p[3 * v + 1] >= from && p[3 * v + 1] <= to && Math.abs(p[3 * v]) < 18);
  const centreVertex = vertices.reduce((a, b) => (Math.abs(p[3 * b]) < Math.abs(p[3 * a]) ? b : a));
  const centre = [p[3 * centreVertex], p[3 * centreVertex + 1], p[3 * centreVertex + 2]] as const;
  return { kind: 'ridge', centre, depth, area: 36 * (to - from), length: 36, width: to - from, vertices, centreVertex, margin: 3.5 };
}

describe('a hollow line', () => {
  it.each([0.6, 1, 1.5])('at the foot of a bandage edge %f mm high is not the mark: the edge is', (height) => {
    // It rises over 3 mm and runs out over 10.
    const surface = bowlWith((y) => (y < 0 ? 0 : y < 3 ? height * (y / 3) : y < 13 ? 0.5 * height * (1 + Math.cos((Math.PI * (y - 3)) / 10)) : 0));
    const edge = edgeBeside(surface, lineOf(surface, -2.5, 1.2, -0.4 * height));
    expect(Math.abs(edge.depth - height)).toBeLessThan(0.25 * height);
    const across = [...edge.vertices].map((v) => surface.mesh.positions[3 * v + 1]);
    expect(Math.min(...across)).toBeGreaterThan(-2);
    expect(Math.max(...across)).toBeGreaterThan(6);
    expect(edge.centre[1]).toBeGreaterThan(1.5);
    expect(edge.area).toBeGreaterThan(120);
    expect(Math.abs(edge.width - edge.area / 36)).toBeLessThan(1e-9);
  });

  it.each([0.6, 1, 1.5])('that is a groove %f mm deep in sound ground stays one', (depth) => {
    const surface = bowlWith((y) => -depth * Math.exp(-((y / 1.8) ** 2)));
    const groove = lineOf(surface, -2.5, 2.5, -0.8 * depth);
    expect(edgeBeside(surface, groove)).toBe(groove);
  });

  it('beside which nothing stands up, and which is hardly one itself, stays as it is', () => {
    const even = bowlWith(() => 0);
    const line = lineOf(even, -2.5, 2.5, -0.3);
    expect(edgeBeside(even, line)).toBe(line);
  });
});

import { describe, expect, it } from 'vitest';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { ACROSS, TOP_MAP, topMap } from '@cast-to-last/pipeline/cut/top-map';
import { closedCylinder, openCylinder } from '../../support/meshes.ts';
import { placeOf } from '../../support/cut-map.ts';

const RADIUS = 40;
const LENGTH = 200;

/** A tube along X from 0 to LENGTH, standing on z = 0. */
function tube(around: number, open: boolean) {
  const { positions, triangles } = (open ? openCylinder : closedCylinder)(RADIUS, LENGTH, around, 80);
  const [low, high] = [2, 2].map((k, i) => positions.filter((_, n) => n % 3 === k).reduce((a, b) => (i === 0 ? Math.min(a, b) : Math.max(a, b))));
  const turned = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    turned.set([((positions[i + 2] - low) * LENGTH) / (high - low), -positions[i + 1], RADIUS + positions[i]], i);
  }
  return { positions: turned, triangles };
}

describe('map of the top', () => {
  const mesh = tube(240, true);
  const map = topMap(mesh, twins(mesh), 220, [110, 0, 2 * RADIUS], Infinity);
  if (map === null) throw new Error('no map of a tube');
  const at = (s: number, j: number) => Array.from(map.points.subarray(3 * (s * ACROSS + j), 3 * (s * ACROSS + j) + 3));
  const middle = (ACROSS - 1) / 2;

  it('begins behind the toes and runs back at even distances', () => {
    // Within the distance of the tube's vertices.
    expect(Math.abs(at(0, middle)[0] - TOP_MAP.front * 220)).toBeLessThan(2.6);
    expect(map.stations).toBeGreaterThan((0.75 * 220 - 4) / TOP_MAP.station - 2);
    for (let s = 1; s < map.stations; s++) expect(at(s - 1, middle)[0] - at(s, middle)[0]).toBeCloseTo(TOP_MAP.station, 1);
    for (let s = 0; s < map.stations; s++) expect(map.along[3 * s]).toBeCloseTo(-1, 6);
  });

  it('lays samples out along the arc, +y last', () => {
    for (const s of [5, 30, map.stations - 5]) {
      for (const j of [0, 20, middle, middle + 40, ACROSS - 1]) {
        const [, y, z] = at(s, j);
        // Points of the polygon lie inside the circle by its sagitta at most.
        expect(y).toBeCloseTo(RADIUS * Math.sin(placeOf(j) / RADIUS), 1);
        expect(z).toBeCloseTo(RADIUS + RADIUS * Math.cos(placeOf(j) / RADIUS), 1);
      }
    }
  });

  it('ends where it is told to, below a closed top', () => {
    // A tube that rises towards the heel at 45 degrees, its upper end closed: a leg.
    const { positions, triangles } = tube(120, false);
    const tilted = Float64Array.from(positions, (c, i) =>
      i % 3 === 0 ? Math.SQRT1_2 * (c + positions[i + 2]) : i % 3 === 2 ? Math.SQRT1_2 * (c - positions[i - 2]) : c);
    const leg = { positions: tilted, triangles };
    const highest = Math.SQRT1_2 * 2 * RADIUS;
    // On the upper side, half-way up.
    const instep: [number, number, number] = [Math.SQRT1_2 * (100 + 2 * RADIUS), 0, Math.SQRT1_2 * (2 * RADIUS - 100)];
    const top = (end: number): number => {
      const mapped = topMap(leg, twins(leg), 200, instep, end);
      if (mapped === null) throw new Error('no map of a leg');
      return Math.max(...Array.from({ length: mapped.stations }, (_, s) => mapped.points[3 * (s * ACROSS + middle) + 2]));
    };
    for (const below of [5, 20]) {
      expect(top(highest - below)).toBeLessThan(highest - below + 0.5);
      expect(top(highest - below)).toBeGreaterThan(highest - below - 4);
    }
    expect(top(Infinity)).toBeGreaterThan(top(highest - 5));
  });

  it('is none where the foot ends before the toe base', () => {
    expect(topMap(mesh, twins(mesh), 400, [110, 0, 2 * RADIUS], Infinity)).toBeNull();
  });

  it('leaves out what lies beyond the end of a section', () => {
    // The upper half of the tube's triangles alone: sections are open arcs.
    const triangles = Uint32Array.from(chunks(mesh.triangles).filter((t) => t.every((v) => mesh.positions[3 * v + 2] > RADIUS + 20)).flat());
    const half = { positions: mesh.positions, triangles };
    const cut = topMap(half, twins(half), 220, [110, 0, 2 * RADIUS], Infinity);
    const reach = RADIUS * Math.acos(20 / RADIUS);
    if (cut === null) throw new Error('no map of half a tube');
    for (const j of [0, ACROSS - 1]) expect(cut.points[3 * (30 * ACROSS + j)]).toBeNaN();
    for (const side of [-1, 1]) expect(cut.points[3 * (30 * ACROSS + middle + side * Math.floor((reach - 3) / TOP_MAP.step))]).not.toBeNaN();
  });
});

const chunks = (triangles: Uint32Array): number[][] => Array.from({ length: triangles.length / 3 }, (_, t) => Array.from(triangles.subarray(3 * t, 3 * t + 3)));

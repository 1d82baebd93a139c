import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { FoundMark } from '@cast-to-last/pipeline/marks/found-mark';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { isPressedFlat, isSoleEdge } from '@cast-to-last/pipeline/marks/pressed-sole';
import { ellipsoid } from '../../support/ellipsoid.ts';

/** An ellipsoid that was pressed 6 mm into a plate: a flat of 41 by 27 mm about the origin, z = 0, with an edge round it. */
const round = ellipsoid([90, 60, 55], [0, 0, 49], 6);
const pressedBy = (off: (d: number) => number): Mesh => ({
  positions: round.positions.map((c, i) => (i % 3 !== 2 ? c : Math.max(c, off(Math.hypot(round.positions[i - 2], round.positions[i - 1]))))),
  triangles: round.triangles,
});
const surfaceOf = (mesh: Mesh): InspectionSurface => inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
const pressed = surfaceOf(pressedBy(() => 0));

/** How far out a place of the sole lies, 1 at the edge of the flat. */
const outward = (p: Float64Array, v: number): number => Math.hypot(p[3 * v] / 41, p[3 * v + 1] / 27);

function mark(surface: InspectionSurface, kind: FoundMark['kind'], width: number, isOf: (p: Float64Array, v: number) => boolean): FoundMark {
  const p = surface.mesh.positions;
  const vertices = Uint32Array.from(surface.areas.keys()).filter((v) => isOf(p, v));
  return { kind, centre: [0, 0, 0], depth: kind === 'dent' ? -2 : 0.6, area: 600, length: 40, width, vertices, centreVertex: vertices[0], margin: 4 };
}

describe('a flat that the footbed pressed', () => {
  const onFlat = (p: Float64Array, v: number): boolean => p[3 * v + 2] < 10 && outward(p, v) < 1;

  it('is no dent: the cast rests on it', () => {
    expect(isPressedFlat(pressed, mark(pressed, 'dent', 27, onFlat))).toBe(true);
    // Also where the frame was tilted by a bump of half a millimetre.
    const tilted = surfaceOf({ ...pressed.mesh, positions: pressed.mesh.positions.map((c, i) => (i % 3 === 2 ? c + 0.4 : c)) });
    expect(isPressedFlat(tilted, mark(tilted, 'dent', 27, onFlat))).toBe(true);
  });

  it('is one where a finger of 20 mm left a hollow of 2 mm in it, and where it is no broader than a fingertip', () => {
    const dented = surfaceOf(pressedBy((d) => 2 * Math.max(0, 1 - (d / 10) ** 2) ** 2));
    expect(isPressedFlat(dented, mark(dented, 'dent', 20, (p, v) => p[3 * v + 2] < 3 && Math.hypot(p[3 * v], p[3 * v + 1]) < 9))).toBe(false);
    expect(isPressedFlat(pressed, mark(pressed, 'dent', 12, (p, v) => p[3 * v + 2] < 3 && Math.hypot(p[3 * v], p[3 * v + 1]) < 6))).toBe(false);
    expect(isPressedFlat(pressed, mark(pressed, 'bump', 27, onFlat))).toBe(false);
  });
});

describe('the edge of a pressed sole', () => {
  /** A steep box in place of the ellipsoid's slow rise: its sides turn up at once. */
  const box = surfaceOf({ ...round, positions: round.positions.map((c, i) => (i % 3 === 2 ? Math.max(0, c * 3) : c)) });
  const atEdge = (p: Float64Array, v: number): boolean => p[3 * v + 2] < 15 && Math.abs(outward(p, v) - 1) < 0.2 && p[3 * v] > 0;

  it('is no ridge: one side faces the floor and the other is turned up, over a broad strip', () => {
    expect(isSoleEdge(box, mark(box, 'ridge', 22, atEdge))).toBe(true);
  });

  it('may bear one: a narrow strip there, and a broad one on the flat or on the side, are ridges', () => {
    expect(isSoleEdge(box, mark(box, 'ridge', 7, atEdge))).toBe(false);
    expect(isSoleEdge(box, mark(box, 'ridge', 22, (p, v) => p[3 * v + 2] < 15 && Math.abs(p[3 * v]) < 5 && Math.abs(p[3 * v + 1]) < 10))).toBe(false);
    expect(isSoleEdge(box, mark(box, 'ridge', 22, (p, v) => p[3 * v + 2] > 60 && p[3 * v + 2] < 80 && p[3 * v] > 0))).toBe(false);
  });
});

import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { findCrests } from '@cast-to-last/pipeline/marks/crests';
import type { InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { Ridge } from '@cast-to-last/pipeline/marks/ridges';
import { dropShadows, isAhead, isHollowBeside, linkRidges } from '@cast-to-last/pipeline/marks/ridges';
import { noisy } from '../../support/disturb.ts';
import { fromPoint, withMark } from '../../support/marked.ts';
import type { Away } from '../../support/marked.ts';
import { gridPlane } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

/** A sheet of 100 mm, vertices about 0.5 mm apart and out of line, bent up to a bowl of 80 mm radius. */
const bowl: Mesh = (() => {
  const random = rng(5);
  const sheet = gridPlane(200, 200, 100);
  const p = sheet.positions.map((c, i) => (i % 3 === 2 || Math.abs(c) > 49.9 ? c : c + random.range(-0.17, 0.17)));
  for (let i = 0; i < p.length; i += 3) p[i + 2] = (p[i] ** 2 + p[i + 1] ** 2) / 160;
  return { positions: p, triangles: sheet.triangles };
})();

const surfaceOf = (mesh: Mesh): InspectionSurface => inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), false);
const everywhere = (): boolean => true;

function ridgesOf(mesh: Mesh, roughness = 0.02): { surface: InspectionSurface; ridges: Ridge[] } {
  const surface = surfaceOf(mesh);
  return { surface, ridges: dropShadows(surface, linkRidges(surface, findCrests(surface), roughness, everywhere), new Uint32Array(0)) };
}

/** Distance in plan from the line through the origin at `deg` to the x axis, of `length` mm. */
const fromLine = (deg: number, length: number): Away => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return (x, y) => {
    const t = Math.min(length / 2, Math.max(-length / 2, c * x + s * y));
    return Math.hypot(x - t * c, y - t * s);
  };
};

/** Unit vector in plan between the two vertices of a ridge that lie farthest from each other. */
function directionOf({ mesh: { positions: p } }: InspectionSurface, { vertices }: Ridge): readonly [number, number] {
  let chord = [0, 0];
  for (const a of vertices) for (const b of vertices) if (Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1]) > Math.hypot(...chord)) chord = [p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1]];
  const length = Math.hypot(...chord);
  return [chord[0] / length, chord[1] / length];
}

describe('ridges', () => {
  it('are none on a smooth bowl, none in noise of 0.05 mm (seed 1)', () => {
    expect(ridgesOf(bowl).ridges).toEqual([]);
    expect(ridgesOf(noisy(bowl, 0.05, rng(1)), 0.04).ridges).toEqual([]);
  });

  it.each([[0, 0.8], [30, 0.8], [75, 0.8], [100, 0.8], [45, 1.5], [90, 1.5], [0, -1.2], [30, -1.2], [100, -1.2]])(
    'at %i° and %f mm high, 8 mm wide and 60 mm long, lie on the line, with its sign, height and direction, over half of its length at least',
    (deg, height) => {
      const away = fromLine(deg, 60);
      const { surface, ridges } = ridgesOf(withMark(bowl, away, height, 8));
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      let length = 0;
      for (const ridge of ridges) {
        expect(Math.sign(ridge.height)).toBe(Math.sign(height));
        // Cells of 1.5 mm average the crest a little; a filter whose gap is narrower than the ridge sees less of it.
        expect(Math.abs(ridge.height / height - 1)).toBeLessThan(0.15);
        expect(away(ridge.centre[0], ridge.centre[1], 0)).toBeLessThan(2);
        const [x, y] = directionOf(surface, ridge);
        expect(Math.abs(x * c + y * s)).toBeGreaterThan(Math.cos(0.15));
        expect(ridge.width).toBeLessThan(6);
        length += ridge.length;
      }
      expect(length).toBeGreaterThan(30);
      expect(length).toBeLessThan(75);
    },
  );

  it('are not seen in a round dent', () => {
    expect(ridgesOf(withMark(bowl, fromPoint([0, 0, 0]), -2, 16)).ridges.filter((r) => r.length > 20)).toEqual([]);
  });

  it('a short one is none, and ground that is not allowed holds none', () => {
    expect(ridgesOf(withMark(bowl, fromLine(30, 2), 0.8, 8)).ridges).toEqual([]);
    const surface = surfaceOf(withMark(bowl, fromLine(0, 60), 0.8, 8));
    expect(linkRidges(surface, findCrests(surface), 0.02, (v) => Math.abs(surface.mesh.positions[3 * v + 1]) > 8).filter((r) => r.height > 0.5)).toEqual([]);
  });

  it('of some 10 mm are raised ones that are high and stand alone', () => {
    const short = fromLine(30, 8);
    const found = (mesh: Mesh): Ridge[] => ridgesOf(mesh).ridges;
    const [ridge, ...others] = found(withMark(bowl, short, 0.8, 6));
    expect(others).toEqual([]);
    expect(ridge.length).toBeGreaterThan(7);
    expect(ridge.length).toBeLessThan(14);
    expect(found(withMark(bowl, short, 0.35, 6))).toEqual([]);
    expect(found(withMark(bowl, short, -0.8, 6)).filter((r) => r.height < 0)).toEqual([]);
    const beside = withMark(withMark(bowl, (x, y) => fromLine(30, 8)(x, y - 12, 0), 0.8, 6), fromLine(30, 60), 1.2, 8);
    expect(found(beside).every((r) => r.length > 14)).toBe(true);
  });

  it('two, 40 mm apart, are two; what lies beside ground already taken goes', () => {
    const two = withMark(withMark(bowl, (x, y) => fromLine(0, 60)(x, y - 20, 0), 0.8, 8), (x, y) => fromLine(0, 60)(x, y + 20, 0), 0.7, 8);
    const { surface, ridges } = ridgesOf(two);
    expect(ridges.map((r) => Math.round(r.centre[1] / 20)).sort()).toEqual([-1, 1]);
    const upper = ridges.find((r) => r.centre[1] > 0) as Ridge;
    const left = dropShadows(surface, ridges, upper.vertices);
    expect(left.map((r) => Math.round(r.centre[1] / 20))).toEqual([-1]);
  });

  it('that reach ahead of the body by more than three tenths of their length lie ahead', () => {
    const { surface, ridges } = ridgesOf(withMark(bowl, fromLine(0, 60), 0.9, 8));
    const x = surface.mesh.positions;
    const endsAt = (border: number): boolean => isAhead(ridges[0], (v) => x[3 * v] < border);
    expect(ridges).toHaveLength(1);
    expect([-10, 5, 16].map(endsAt)).toEqual([true, true, false]);
  });

  it('rougher plaster needs a higher one', () => {
    const low = withMark(bowl, fromLine(0, 60), 0.4, 8);
    expect(ridgesOf(low, 0.02).ridges).toHaveLength(1);
    expect(ridgesOf(low, 0.3).ridges).toEqual([]);
  });

  it('whose crest is broken off for a moment are one; far apart they are two', () => {
    const halves = (apart: number): Mesh => [-1, 1].reduce((mesh, side) => withMark(mesh, (x, y) => fromLine(0, 24)(x - side * (12 + apart / 2), y, 0), 0.8, 6), bowl);
    expect(ridgesOf(halves(5)).ridges.filter((r) => r.height > 0)).toHaveLength(1);
    expect(ridgesOf(halves(20)).ridges.filter((r) => r.height > 0)).toHaveLength(2);
  });

  it('in pieces win over the hollow that runs on beside them, and a lower line beside a groove does not', () => {
    const surface = surfaceOf(bowl);
    /** The vertices along y between two places on the x axis, 1 mm each way. */
    const along = (y: number, from: number, to: number, height: number): Ridge => {
      const p = surface.mesh.positions;
      const vertices = Uint32Array.from([...surface.areas.keys()].filter((v) => Math.abs(p[3 * v + 1] - y) < 1 && p[3 * v] > from && p[3 * v] < to));
      return { vertices, height, length: to - from, width: 2, area: 2 * (to - from), centre: [(from + to) / 2, y, 0], centreVertex: vertices[0] };
    };
    const none = new Uint32Array(0);
    const pieces = [along(0, -40, -2, 1.06), along(0, 8, 37, 1.02)];
    const hollow = along(5, -40, 37, -0.84);
    expect(dropShadows(surface, [hollow, ...pieces], none)).toEqual(pieces);
    const groove = along(5, -40, 37, -1.2);
    expect(dropShadows(surface, [groove, along(0, -40, 37, 0.8)], none)).toEqual([groove]);
    expect(isHollowBeside(surface, along(5, -10, 20, -0.7), [along(0, -40, 37, 0.9)])).toBe(true);
    // Not where the raised line is lower, or hardly longer, or runs elsewhere; and a raised line is no hollow.
    for (const [line, ridge] of [[along(5, -10, 20, -0.7), along(0, -40, 37, 0.6)], [along(5, -10, 20, -0.7), along(0, -15, 20, 0.9)], [along(5, -10, 20, -0.7), along(30, -40, 37, 0.9)], [along(5, -10, 20, 0.7), along(0, -40, 37, 0.9)]]) {
      expect(isHollowBeside(surface, line, [ridge])).toBe(false);
    }
  });
});

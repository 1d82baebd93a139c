import { describe, expect, it } from 'vitest';
import { flatsUnderMarks } from '@cast-to-last/foot/position/flats-under-marks';
import { plateSole, standing } from '../../support/standing.ts';

const SEAT = [40, 0] as const;
const fromSeat = (p: Float64Array, v: number): number => Math.hypot(p[3 * v] - SEAT[0], p[3 * v + 1] - SEAT[1]);

/** A sole whose surface within 22 mm of the seat's middle is marked: as it was scanned, and with `by` mm added there by smoothing. */
function marked(scannedBy: (d: number) => number, by: (d: number) => number) {
  const sole = (shape: (d: number) => number) => plateSole({ bend: 12, hinge: 185, off: (x, y) => shape(Math.hypot(x - SEAT[0], y - SEAT[1])) });
  const scanned = sole(scannedBy).positions;
  const cast = standing(sole((d) => scannedBy(d) + by(d)));
  return { cast, scanned, marks: Uint8Array.from(cast.areas, (_, v) => +(fromSeat(cast.mesh.positions, v) < 22)) };
}

/** Falls from 1 in the middle to 0 at a radius. */
const dome = (radius: number) => (d: number) => Math.max(0, 1 - (d / radius) ** 2) ** 2;

describe('flatsUnderMarks', () => {
  it('brings a wide flat back to where it was scanned, and counts it as no mark', () => {
    const { cast, scanned, marks } = marked(() => 0, (d) => -3 * dome(22)(d));
    const flats = flatsUnderMarks(cast, scanned, marks);
    expect(flats.cast.mesh.positions).toEqual(scanned);
    expect(flats.marked.some((mark) => mark === 1)).toBe(false);
    // The normals are those of the flat.
    const middle = marks.findIndex((_, v) => fromSeat(scanned, v) > 8 && fromSeat(scanned, v) < 12);
    expect(flats.cast.normals[3 * middle + 2]).toBeCloseTo(-1, 6);
  });

  it('leaves bumps and dents as they were smoothed', () => {
    for (const depth of [-2, 2]) {
      const { cast, scanned, marks } = marked((d) => depth * dome(22)(d), (d) => -depth * dome(22)(d));
      const flats = flatsUnderMarks(cast, scanned, marks);
      const middle = marks.findIndex((_, v) => fromSeat(scanned, v) < 2);
      expect(flats.marked[middle]).toBe(1);
      expect(flats.cast.mesh.positions[3 * middle + 2]).toBeCloseTo(0, 6);
    }
  });

  it('takes no small flat for a seat', () => {
    const small = (d: number): number => (d < 7 ? 0 : (d - 7) ** 2 / 30);
    const { cast, scanned, marks } = marked(small, (d) => -dome(22)(d));
    expect(flatsUnderMarks(cast, scanned, marks).cast).toBe(cast);
  });
});

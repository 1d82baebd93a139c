import { describe, expect, it } from 'vitest';
import { bedAngles, footToFloor } from '@cast-to-last/foot/footbed';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';

const DEG = Math.PI / 180;
const flat = { heelHeightMm: 0, hingeHeightMm: 0, toeHeightMm: 0, heelToHingeMm: 180, hingeToToeMm: 80 };

describe('bedAngles', () => {
  it('are those of the triangles of known sides', () => {
    // 3-4-5 and 5-12-13 triangles, and a half: sin 30° = 1/2.
    expect(bedAngles({ ...flat, heelHeightMm: 60, heelToHingeMm: 100 }).heelPitch).toBeCloseTo(Math.atan2(3, 4), 12);
    expect(bedAngles({ ...flat, toeHeightMm: 30, hingeToToeMm: 78 }).toePitch).toBeCloseTo(Math.atan2(5, 12), 12);
    const both = bedAngles({ heelHeightMm: 60, hingeHeightMm: 10, toeHeightMm: 50, heelToHingeMm: 100, hingeToToeMm: 80 });
    expect(both.heelPitch).toBeCloseTo(30 * DEG, 12);
    expect(both.toePitch).toBeCloseTo(30 * DEG, 12);
    expect(both.bend).toBeCloseTo(60 * DEG, 12);
  });

  it('are nothing on a flat bed at any height, and negative where the hinge is the highest line', () => {
    expect(bedAngles(flat)).toEqual({ heelPitch: 0, toePitch: 0, bend: 0 });
    expect(bedAngles({ ...flat, heelHeightMm: 40, hingeHeightMm: 40, toeHeightMm: 40 }).bend).toBe(0);
    expect(bedAngles({ ...flat, hingeHeightMm: 20 }).bend).toBeLessThan(0);
  });

  it('refuse a plate that cannot reach', () => {
    expect(() => bedAngles({ ...flat, heelHeightMm: 181 })).toThrow(RangeError);
    expect(() => bedAngles({ ...flat, toeHeightMm: 81 })).toThrow(RangeError);
  });
});

describe('footToFloor', () => {
  const pitch = 12 * DEG;
  const floor = footToFloor(pitch);

  it('lets the rest plane go down to the toes by the pitch, and leaves the breadth alone', () => {
    const [x, , z, , y] = transformPositions(floor, new Float64Array([200, 0, 0, 0, 37, 0]));
    expect(Math.atan2(-z, x)).toBeCloseTo(pitch, 12);
    expect(Math.hypot(x, z)).toBeCloseTo(200, 9);
    expect(y).toBe(37);
  });

  it('adds the pitch to what leans to the toes', () => {
    const lean = 5 * DEG;
    const [x, , z] = transformPositions(floor, new Float64Array([100 * Math.sin(lean), 0, 100 * Math.cos(lean)]));
    expect(Math.atan2(x, z)).toBeCloseTo(lean + pitch, 12);
  });

  it('puts the heel of a bed as far over its hinge as it was measured', () => {
    const bed = { ...flat, heelHeightMm: 47, hingeHeightMm: 12, heelToHingeMm: 170 };
    const [, , hinge] = transformPositions(footToFloor(bedAngles(bed).heelPitch), new Float64Array([170, 0, 0]));
    expect(-hinge).toBeCloseTo(47 - 12, 9);
  });

  it('turns nothing where there is no pitch', () => {
    const points = new Float64Array([1, 2, 3, -4, 5, -6]);
    expect(transformPositions(footToFloor(0), points)).toEqual(points);
  });
});

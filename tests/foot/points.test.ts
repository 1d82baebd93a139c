import { describe, expect, it } from 'vitest';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { crookOfAnkle, heelCorner, highestAt, midlineProfile } from '@cast-to-last/foot/points';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { cutTo } from '../support/disturb.ts';
import { ellipsoid } from '../support/ellipsoid.ts';

const wrapped = (mesh: Mesh): Wrapped => ({ mesh, twin: twins(mesh), filled: new Uint8Array(mesh.positions.length / 3) });
const body = ellipsoid([130, 45, 35], [130, 4, 35], 6);
const surface = wrapped(body);

describe('highest point of a section', () => {
  it.each([40, 130, 200])('of an ellipsoid at x = %i mm lies on its crest', (x) => {
    const found = highestAt(surface, x);
    expect(found?.[0]).toBeCloseTo(x, 9);
    // Facets of 2 mm lie up to 0.005 mm inside; the crest is flat, so that within y ± 0.7 mm nothing is lower than that.
    expect(Math.abs((found?.[2] ?? 0) - (35 + 35 * Math.sqrt(1 - ((x - 130) / 130) ** 2)))).toBeLessThan(0.02);
    expect(Math.abs((found?.[1] ?? 0) - 4)).toBeLessThan(1.5);
  });

  it('is none beyond the body, and none where the top is open', () => {
    expect(highestAt(surface, 261)).toBeNull();
    const open = wrapped(cutTo(body, (x, _y, z) => z < 60 || x > 150));
    expect(highestAt(open, 130)).toBeNull();
    expect(highestAt(open, 200)).not.toBeNull();
  });
});

describe('heel corner', () => {
  it('of an ellipse is where a line at 45° touches it', () => {
    const found = heelCorner(midlineProfile(wrapped(ellipsoid([130, 45, 35], [130, 0, 35], 6))));
    const norm = Math.hypot(130, 35);
    const expected = [130 - 130 ** 2 / norm, 0, 35 - 35 ** 2 / norm];
    // The place slides along the curve by a facet, 2 mm; how far it lies back and down does not.
    expect(Math.hypot(...expected.map((c, k) => c - (found?.[k] ?? 0)))).toBeLessThan(2);
    expect((found?.[0] ?? 0) + (found?.[2] ?? 0)).toBeCloseTo(expected[0] + expected[2], 1);
  });

  it('of no profile is none', () => {
    expect(heelCorner([])).toBeNull();
  });
});

describe('crook of the ankle', () => {
  const FL = 260;
  const instep = [130, 0, 70] as const;
  /** A profile that falls from the shin at `shin` mm in a quarter circle of 40 mm to the instep's height; the bend's circle is about (130, 110). */
  const profile = (top: number): Float64Array => {
    const points: number[] = [];
    for (let z = top; z > 110; z -= 1) points.push(90, 0, z);
    for (let deg = 180; deg <= 270; deg += 1) points.push(130 + 40 * Math.cos((deg * Math.PI) / 180), 0, 110 + 40 * Math.sin((deg * Math.PI) / 180));
    return Float64Array.from(points);
  };

  it('is where a line at 45° touches the bend', () => {
    const found = crookOfAnkle([profile(180)], instep, FL, Infinity);
    expect(found?.[0]).toBeCloseTo(130 - 40 * Math.SQRT1_2, 6);
    expect(found?.[2]).toBeCloseTo(110 - 40 * Math.SQRT1_2, 6);
  });

  it('is none where the cast ends before the shin rises 5 mm above it, or is not whole so far up', () => {
    const crookHeight = 110 - 40 * Math.SQRT1_2;
    const upTo = (z: number): Float64Array => profile(180).filter((_, i, all) => all[i - (i % 3) + 2] <= z);
    expect(crookOfAnkle([upTo(crookHeight + 3)], instep, FL, Infinity)).toBeNull();
    expect(crookOfAnkle([upTo(crookHeight + 7)], instep, FL, Infinity)).not.toBeNull();
    expect(crookOfAnkle([profile(180)], instep, FL, crookHeight + 4)).toBeNull();
    expect(crookOfAnkle([profile(180)], instep, FL, crookHeight + 6)).not.toBeNull();
    expect(crookOfAnkle([], instep, FL, Infinity)).toBeNull();
  });

  it('is not taken for the instep itself, nor for the sole under it', () => {
    const flat = Float64Array.from(Array.from({ length: 80 }, (_, i) => [50 + i, 0, 70]).flat());
    expect(crookOfAnkle([flat], instep, FL, Infinity)).toBeNull();
    const sole = Float64Array.from(Array.from({ length: 80 }, (_, i) => [50 + i, 0, 0]).flat());
    const found = crookOfAnkle([profile(180), sole], instep, FL, Infinity);
    expect(found?.[2]).toBeGreaterThan(80);
  });
});

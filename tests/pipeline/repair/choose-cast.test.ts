import { describe, expect, it } from 'vitest';
import { surfaceArea, vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { cutAway } from '../../support/foot-blob.ts';
import { flipped, gridPlane, icosphere, merged } from '../../support/meshes.ts';
import { codeOf, expectSound, foot, meanHeight, moved, openFoot, repair } from '../../support/repaired.ts';

describe('repairCast keeps the cast and nothing else', () => {
  it('drops a table that is far larger than the cast', () => {
    const cast = repair(merged(moved(gridPlane(30, 30, 1200), 100, 0, -2), openFoot));
    expect(cast.mesh).toEqual(openFoot);
    expect(cast.warnings.join()).toContain('table');
  });

  it('cuts off a table that hangs together with the cast, whichever way the file faces', () => {
    const shell = cutAway(openFoot, (_x, _y, z) => z < 6);
    const rim = boundaryLoops(shell).sort((a, b) => shell.positions[3 * a[0] + 2] - shell.positions[3 * b[0] + 2])[0];
    const positions = [...shell.positions];
    const triangles = [...shell.triangles];
    let before = Array.from(rim);
    for (let ring = 1; ring <= 25; ring++) {
      const s = ring / 25;
      const here = before.map((_, i) => positions.length / 3 + i);
      rim.forEach((v) => {
        const [x, y] = shell.positions.subarray(3 * v, 3 * v + 2);
        positions.push(x + 0.8 * s * (x - 110), y + 2.5 * s * y, ring === 1 ? 2 : 0);
      });
      rim.forEach((_, i) => {
        const j = (i + 1) % rim.length;
        triangles.push(before[j], before[i], here[i], before[j], here[i], here[j]);
      });
      before = here;
    }
    const onTable = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
    for (const mesh of [onTable, flipped(onTable)]) {
      const cast = repair(mesh);
      expectSound(cast);
      expect(cast.warnings.join()).toContain('table');
      expect(meanHeight(cast)).toBeGreaterThan(120);
      const low = cast.mesh.positions.reduce((least, c, i) => (i % 3 === 2 ? Math.min(least, c) : least), Infinity);
      expect(low).toBeGreaterThan(-4);
      const widest = cast.mesh.positions.reduce((most, c, i) => (i % 3 === 1 ? Math.max(most, Math.abs(c)) : most), 0);
      expect(widest).toBeLessThan(62);
    }
  });

  it('takes a flat sole and a flat top for no table', () => {
    const flat = {
      positions: foot.positions.map((c, i) => (i % 3 === 2 ? Math.max(8, Math.min(110, c)) : c)),
      triangles: foot.triangles,
    };
    const cast = repair(flat);
    expect(cast.repairs.trianglesDropped).toBe(0);
    expect(cast.warnings).toEqual([]);
  });

  it('keeps both sides of a shell that was booked in as a positive, and says so; of two loose walls it then keeps the larger', () => {
    const normals = vertexNormals(foot);
    const inner = { positions: foot.positions.map((c, i) => c - 5 * normals[i]), triangles: foot.triangles };
    const kept: number[] = [];
    for (let t = 0; t < foot.triangles.length; t += 3) {
      const low = [0, 1, 2].every((k) => foot.positions[3 * foot.triangles[t + k] + 2] < 130);
      if (low) kept.push(...foot.triangles.subarray(t, t + 3));
    }
    const outside = { positions: foot.positions, triangles: Uint32Array.from(kept) };
    const loose = merged(outside, flipped({ positions: inner.positions, triangles: outside.triangles }));
    const n = foot.positions.length / 3;
    const rim = boundaryLoops(outside)[0];
    const edge = Array.from(rim).flatMap((a, i) => {
      const b = rim[(i + 1) % rim.length];
      return [b, a, n + a, b, n + a, n + b];
    });
    const joined = repair({ positions: loose.positions, triangles: new Uint32Array([...loose.triangles, ...edge]) });
    expectSound(joined);
    expect(joined.opening).toBeNull();
    expect(joined.warnings.join()).toContain('both sides of a thin shell');
    const larger = repair(loose);
    expectSound(larger);
    expect(larger.warnings.join()).toContain('surface');
    expect(larger.outerSheet).toBeNull();
    expect(surfaceArea(larger.mesh)).toBeCloseTo(surfaceArea(outside), 6);
  });

  it('takes the larger of two casts of different size, and says so; halves of one are no casts', () => {
    const smaller = { positions: foot.positions.map((c, i) => 0.65 * c + [0, 200, 0][i % 3]), triangles: foot.triangles };
    const cast = repair(merged(smaller, openFoot));
    expect(cast.mesh).toEqual(openFoot);
    expect(cast.warnings.join()).toContain(`a second body, with ${Math.round((100 * surfaceArea(smaller)) / surfaceArea(openFoot))} % of the surface`);
    const halves = merged(cutAway(foot, (_x, y) => y > -3), moved(cutAway(foot, (_x, y) => y < 3), 0, 5, 0));
    expect(codeOf(halves)).toBe('fragmented-scan');
  });

  it('says it when loose pieces of some size are left out', () => {
    const cast = repair(merged(openFoot, moved(icosphere(25, 3), 100, 200, 0)));
    expect(cast.repairs.piecesDropped).toBe(1);
    expect(cast.warnings.join()).toContain('Loose pieces');
  });
});

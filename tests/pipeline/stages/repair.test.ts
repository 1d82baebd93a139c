import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { bodyDistance, cutAway } from '../../support/foot-blob.ts';
import { asSoup, flipped, gridPlane, icosphere, merged } from '../../support/meshes.ts';
import { codeOf, expectSound, foot, meanHeight, moved, openFoot, repair, worstFill } from '../../support/repaired.ts';
import { rng } from '../../support/rng.ts';

describe('repairCast on sound scans', () => {
  it('leaves a closed foot as it is', () => {
    const cast = repair(foot);
    expectSound(cast);
    expect(cast.mesh).toEqual(foot);
    expect(cast.warnings).toEqual([]);
    expect(Object.values(cast.repairs).every((count) => count === 0)).toBe(true);
  });

  it('keeps the opening at the top', () => {
    const cast = repair(asSoup(openFoot));
    expectSound(cast);
    expect(meanHeight(cast)).toBeGreaterThan(120);
    expect(cast.repairs.weldedVertices).toBe(openFoot.triangles.length - openFoot.positions.length / 3);
    expect(cast.repairs.holesFilled).toBe(0);
    expect(surfaceArea(cast.mesh)).toBeCloseTo(surfaceArea(openFoot), 3);
  });

  it('a large hole round the heel is closed as the heel bulges, not by a skin across it', () => {
    const cast = repair(cutAway(openFoot, (x, y, z) => Math.hypot(x, y, z - 30) < 50));
    expectSound(cast);
    // A skin lies 23 mm inside.
    expect(worstFill(cast)).toBeLessThan(12);
  });

  it('gives the same surface whatever the pose and the order of triangles (seed 71)', () => {
    const random = rng(71);
    const turn = random.rotation();
    const order = Array.from({ length: openFoot.triangles.length / 3 }, (_, t) => t).sort(() => random.next() - 0.5);
    const holed = cutAway(openFoot, (x, y, z) => Math.hypot(x - 120, y - 8, z - 60) < 14);
    const soup = asSoup({ positions: holed.positions, triangles: holed.triangles });
    const positions = new Float64Array(soup.positions.length);
    for (let v = 0; v < positions.length; v += 3) {
      for (let k = 0; k < 3; k++) {
        positions[v + k] = turn[3 * k] * soup.positions[v] + turn[3 * k + 1] * soup.positions[v + 1] + turn[3 * k + 2] * soup.positions[v + 2] + 300;
      }
    }
    const triangles = Uint32Array.from(
      order.filter((t) => t < holed.triangles.length / 3).flatMap((t) => [3 * t, 3 * t + 1, 3 * t + 2]),
    );
    const [plain, turned] = [repair(holed), repair({ positions, triangles })];
    expectSound(turned);
    expect(turned.opening?.length).toBe(plain.opening?.length);
    expect(turned.repairs.holesFilled).toBe(plain.repairs.holesFilled);
    expect(turned.repairs.areaFilled / plain.repairs.areaFilled).toBeCloseTo(1, 2);
    expect(surfaceArea(turned.mesh) / surfaceArea(plain.mesh)).toBeCloseTo(1, 4);
  });
});

describe('repairCast on damage', () => {
  const bigTable = moved(gridPlane(40, 40, 700), 100, 0, -3);
  for (let seed = 81; seed < 97; seed++) {
    it(`gives back a sound foot (seed ${seed})`, () => {
      const random = rng(seed);
      const chance = (share: number): boolean => random.next() < share;
      const noise = 0.05;
      let mesh: Mesh = { positions: foot.positions.map((c) => c + noise * random.normal()), triangles: foot.triangles };
      const open = chance(0.8);
      const [top, lean, ragged] = [random.range(90, 160), random.range(-0.15, 0.15), random.range(0, 5)];
      if (open) mesh = cutAway(mesh, (x, y, z) => z + lean * (x - 50) > top + ragged * Math.sin(0.9 * x) * Math.cos(0.7 * y));
      for (let i = random.below(6); i > 0; i--) {
        const v = 3 * random.below(mesh.positions.length / 3);
        const [cx, cy, cz] = mesh.positions.slice(v, v + 3);
        const radius = random.range(1.5, 11);
        mesh = cutAway(mesh, (x, y, z) => Math.hypot(x - cx, y - cy, z - cz) < radius);
      }
      if (chance(0.4)) {
        const gone = Uint8Array.from({ length: mesh.triangles.length / 3 }, () => (chance(0.005) ? 1 : 0));
        mesh = { positions: mesh.positions, triangles: mesh.triangles.filter((_, h) => gone[Math.floor(h / 3)] === 0) };
      }
      const bare = mesh.triangles.length / 3;
      if (chance(0.4)) {
        const layer = { positions: mesh.positions.map((c) => c + random.range(-0.01, 0.01)), triangles: mesh.triangles };
        mesh = merged(mesh, chance(0.5) ? flipped(layer) : layer);
      }
      if (chance(0.4)) {
        for (let i = 0; i < 10; i++) {
          mesh = merged(mesh, moved(icosphere(random.range(1, 8), 1), random.range(-50, 300), random.range(80, 200), random.range(0, 200)));
        }
      }
      if (chance(0.4)) mesh = merged(mesh, bigTable);
      if (chance(0.4)) {
        const tip = mesh.positions.length / 3;
        const [a, b] = mesh.triangles.subarray(3 * random.below(bare));
        mesh = {
          positions: new Float64Array([...mesh.positions, mesh.positions[3 * a] + 2, mesh.positions[3 * a + 1] + 2, mesh.positions[3 * a + 2] + 2]),
          triangles: new Uint32Array([...mesh.triangles, a, b, tip]),
        };
      }
      if (chance(0.5)) {
        const turn = Uint8Array.from({ length: mesh.triangles.length / 3 }, () => (chance(0.4) ? 1 : 0));
        mesh = {
          positions: mesh.positions,
          triangles: mesh.triangles.map((v, h, all) => (turn[Math.floor(h / 3)] ? all[h - (h % 3) + [0, 2, 1][h % 3]] : v)),
        };
      }
      if (chance(0.5)) mesh = flipped(mesh);
      if (chance(0.5)) {
        const soup = asSoup(mesh);
        mesh = { positions: soup.positions.map((c) => c + random.range(-1e-5, 1e-5)), triangles: soup.triangles };
      }
      const cast = repair(mesh);
      expectSound(cast);
      expect(cast.opening !== null).toBe(open);
      if (open) expect(Math.abs(meanHeight(cast) - top)).toBeLessThan(0.15 * 45 + ragged + 5);
      expect(worstFill(cast)).toBeLessThan(2);
      const strays = cast.filled.filter((f, v) => {
        const [x, y, z] = cast.mesh.positions.subarray(3 * v, 3 * v + 3);
        return f === 0 && Math.abs(bodyDistance(x, y, z)) > 0.5;
      });
      expect(strays.length).toBe(0);
    });
  }

  it('counts what it does', () => {
    const [tip, pole] = [foot.positions.length / 3, 1000];
    const [a, b] = foot.triangles.subarray(3 * 5000);
    const hole = cutAway(foot, (x, y, z) => Math.hypot(x - 120, y - 8, z - 60) < 10);
    const above = foot.positions.subarray(3 * a, 3 * a + 3).map((c, k) => (k === 2 ? c + 9 : c));
    const fin = { positions: new Float64Array([...foot.positions, ...above]), triangles: new Uint32Array([...foot.triangles, a, b, tip]) };
    const finned = repair(fin);
    expect(finned.repairs).toMatchObject({ nonManifoldEdges: 1, piecesDropped: 1, trianglesDropped: 1 });
    expectSound(finned);
    const again = new Uint32Array([...foot.triangles, ...flipped(foot).triangles.subarray(0, 300), 7, 7, pole]);
    const twice = repair({ positions: foot.positions, triangles: again });
    expect(twice.repairs).toMatchObject({ duplicateTriangles: 100, degenerateTriangles: 1 });
    expect(twice.mesh).toEqual(foot);
    const insideOut = repair(flipped(hole));
    expect(insideOut.repairs.trianglesFlipped).toBe(hole.triangles.length / 3);
    expect(insideOut.repairs.holesFilled).toBe(1);
    const missing = surfaceArea(foot) - surfaceArea(hole);
    expect(insideOut.repairs.areaFilled / missing).toBeCloseTo(1, 1);
  });

  it('survives wrong corners and stray triangles in number (seed 98)', () => {
    const random = rng(98);
    const n = openFoot.positions.length / 3;
    const torn = openFoot.triangles.slice();
    for (let i = 0; i < 100; i++) torn[random.below(torn.length)] = random.below(n);
    const strays = Array.from({ length: 300 }, () => random.below(n));
    const cast = repair({ positions: openFoot.positions, triangles: new Uint32Array([...torn, ...strays]) });
    expectSound(cast);
    expect(meanHeight(cast)).toBeGreaterThan(120);
    expect(worstFill(cast)).toBeLessThan(2);
  });

  it('closes cracks between patches, and says so', () => {
    const soup = asSoup(openFoot);
    const positions = soup.positions.slice();
    for (let t = 0; t < positions.length; t += 9) {
      if (positions[t + 2] + positions[t + 5] + positions[t + 8] > 180) for (let k = t; k < t + 9; k += 3) positions[k] += 0.02;
    }
    const cast = repair({ positions, triangles: soup.triangles });
    expectSound(cast);
    expect(cast.repairs.piecesDropped).toBe(0);
    expect(cast.warnings.join()).toContain('cracks');
  });
});

describe('repairCast refuses', () => {
  it('a scan in shards, and two casts in one file', () => {
    const random = rng(99);
    const kept = Uint8Array.from({ length: foot.triangles.length / 3 }, () => (random.next() < 0.5 ? 1 : 0));
    const shards = { positions: foot.positions, triangles: foot.triangles.filter((_, h) => kept[Math.floor(h / 3)] === 1) };
    expect(codeOf(shards)).toBe('fragmented-scan');
    expect(codeOf(merged(openFoot, moved(openFoot, 0, 200, 0)))).toBe('several-casts');
  });

  it('a scan with more than a third missing, and not one with sole and top open', () => {
    expect(codeOf(cutAway(foot, (_x, _y, z) => z > 22))).toBe('too-much-missing');
    expect(codeOf(cutAway(openFoot, (_x, _y, z) => z < 8))).toBeNull();
  });
});

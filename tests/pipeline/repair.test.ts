import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { compactVertices } from '@cast-to-last/geometry/components';
import { eulerCharacteristic, signedVolume, surfaceArea, vertexNormals } from '@cast-to-last/geometry/quantities';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/topology';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { RepairedCast, Scan, ScanKind } from '@cast-to-last/pipeline/records';
import { repairCast } from '@cast-to-last/pipeline/stages/repair';
import { bodyDistance, cutAway, footBlob } from '../support/foot-blob.ts';
import { asSoup, flipped, gridPlane, icosphere, merged } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

const scanOf = (mesh: Mesh, kind: ScanKind = 'positive'): Scan => ({
  mesh,
  format: 'stl-binary',
  trianglesRead: mesh.triangles.length / 3,
  unit: 'mm',
  unitHow: 'given',
  kind,
  warnings: [],
});

const repair = (mesh: Mesh, kind?: ScanKind): RepairedCast => repairCast(scanOf(mesh, kind));

const codeOf = (mesh: Mesh): string | null => {
  try {
    repair(mesh);
    return null;
  } catch (error) {
    if (error instanceof CastError) return error.code;
    throw error;
  }
};

const foot = footBlob(5);
const openFoot = cutAway(foot, (_x, _y, z) => z > 130);
const moved = (mesh: Mesh, dx: number, dy: number, dz: number): Mesh => ({
  positions: mesh.positions.map((c, i) => c + [dx, dy, dz][i % 3]),
  triangles: mesh.triangles,
});

/** What every repaired cast must be, whatever went in. */
function expectSound(cast: RepairedCast): void {
  const { mesh, opening } = cast;
  const twin = twins(mesh);
  expect(twin.includes(-2)).toBe(false);
  const loops = boundaryLoops(mesh, twin);
  expect(loops.length).toBe(opening === null ? 0 : 1);
  if (opening !== null) {
    const start = loops[0].indexOf(opening[0]);
    expect(Array.from(opening)).toEqual(Array.from(opening, (_, i) => loops[0][(start + i) % loops[0].length]));
  }
  expect(eulerCharacteristic(mesh, twin)).toBe(opening === null ? 2 : 1);
  expect(compactVertices(mesh)).toBe(mesh);
  expect(vertexTriangles(mesh).items.length).toBe(mesh.triangles.length);
  expect(cast.filled.length).toBe(mesh.positions.length / 3);
  expect(mesh.positions.every(Number.isFinite)).toBe(true);
  const middle = [0, 1, 2].map((k) => mesh.positions.reduce((sum, c, i) => (i % 3 === k ? sum + c : sum), 0) / (mesh.positions.length / 3));
  expect(signedVolume(moved(mesh, -middle[0], -middle[1], -middle[2]))).toBeGreaterThan(0);
}

/** Greatest distance of filled vertices from the body that the foot is made of. */
const worstFill = (cast: RepairedCast): number =>
  cast.filled.reduce((most, f, v) => {
    const [x, y, z] = cast.mesh.positions.subarray(3 * v, 3 * v + 3);
    return f ? Math.max(most, Math.abs(bodyDistance(x, y, z))) : most;
  }, 0);

const meanHeight = (cast: RepairedCast): number =>
  Array.from(cast.opening ?? []).reduce((sum, v) => sum + cast.mesh.positions[3 * v + 2], 0) / (cast.opening?.length ?? 1);

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
      cast.filled.forEach((f, v) => {
        if (!f) expect(Math.abs(bodyDistance(...(cast.mesh.positions.slice(3 * v, 3 * v + 3) as unknown as [number, number, number])))).toBeLessThan(0.5);
      });
    });
  }

  it('counts what it does', () => {
    const [tip, pole] = [foot.positions.length / 3, 1000];
    const [a, b] = foot.triangles.subarray(3 * 5000);
    const hole = cutAway(foot, (x, y, z) => Math.hypot(x - 120, y - 8, z - 60) < 10);
    const fin = { positions: new Float64Array([...foot.positions, foot.positions[3 * a], foot.positions[3 * a + 1], foot.positions[3 * a + 2] + 9]), triangles: new Uint32Array([...foot.triangles, a, b, tip]) };
    const finned = repair(fin);
    expect(finned.repairs).toMatchObject({ nonManifoldEdges: 1, piecesDropped: 1, trianglesDropped: 1 });
    expectSound(finned);
    const twice = repair({ positions: foot.positions, triangles: new Uint32Array([...foot.triangles, ...flipped(foot).triangles.subarray(0, 300), 7, 7, pole]) });
    expect(twice.repairs).toMatchObject({ duplicateTriangles: 100, degenerateTriangles: 1 });
    expect(twice.mesh).toEqual(foot);
    const insideOut = repair(flipped(hole));
    expect(insideOut.repairs.trianglesFlipped).toBe(hole.triangles.length / 3);
    expect(insideOut.repairs.holesFilled).toBe(1);
    const missing = surfaceArea(foot) - surfaceArea(hole);
    expect(insideOut.repairs.areaFilled / missing).toBeCloseTo(1, 1);
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

describe('repairCast tells openings from holes', () => {
  const cases: [string, Mesh, { readonly opening: readonly [number, number] | null; readonly holes: number }][] = [
    ['cut high', cutAway(foot, (_x, _y, z) => z > 170), { opening: [160, 175], holes: 0 }],
    ['cut low', cutAway(foot, (_x, _y, z) => z > 75), { opening: [68, 76], holes: 0 }],
    ['cut aslant', cutAway(foot, (x, _y, z) => z + 0.35 * (x - 50) > 120), { opening: [105, 135], holes: 0 }],
    ['with a deep notch in front', cutAway(openFoot, (x, y, z) => z > 80 && y > 0 && Math.abs(x - 55) < 12), { opening: [80, 130], holes: 0 }],
    ['open at sole and ankle', cutAway(openFoot, (_x, _y, z) => z < 8), { opening: [120, 131], holes: 1 }],
    ['capped and open at the sole', cutAway(foot, (_x, _y, z) => z < 8), { opening: null, holes: 1 }],
    ['with a sole patch missing', cutAway(openFoot, (x, y, z) => z < 20 && Math.abs(x - 110) < 50 && Math.abs(y) < 30), { opening: [120, 131], holes: 1 }],
    ['capped with a sole patch missing', cutAway(foot, (x, y, z) => z < 20 && Math.abs(x - 110) < 50 && Math.abs(y) < 30), { opening: null, holes: 1 }],
    ['with the heel cut off', cutAway(openFoot, (x, _y, z) => x < 30 && z < 80), { opening: [120, 131], holes: 1 }],
    ['with the toes cut off', cutAway(openFoot, (x) => x > 215), { opening: [120, 131], holes: 1 }],
    ['capped with a hole of 60 mm in the side', cutAway(foot, (x, y, z) => y < 0 && Math.hypot(x - 40, z - 50) < 30), { opening: null, holes: 1 }],
  ];
  for (const [name, mesh, wanted] of cases) {
    it(name, () => {
      const cast = repair(mesh);
      expectSound(cast);
      expect(cast.repairs.holesFilled).toBe(wanted.holes);
      expect(cast.opening === null).toBe(wanted.opening === null);
      if (wanted.opening === null) return;
      expect(meanHeight(cast)).toBeGreaterThan(wanted.opening[0]);
      expect(meanHeight(cast)).toBeLessThan(wanted.opening[1]);
    });
  }

  it('fills a missing sole patch of 60 × 100 mm near the true sole, marks it and says it', () => {
    const cast = repair(cases[6][1]);
    expect(worstFill(cast)).toBeLessThan(4);
    expect(cast.repairs.areaFilled).toBeGreaterThan(5500);
    expect(cast.warnings.join()).toMatch(/hole of 6\d cm²/);
    const marked = cast.filled.reduce((sum, f) => sum + f, 0);
    expect(marked).toBeGreaterThan(100);
    expect(marked).toBeLessThan(0.5 * foot.positions.length / 3);
    const shares = cast.filled.filter((f, v) => f === 1 && cast.mesh.positions[3 * v + 2] < 15).length;
    expect(shares).toBe(marked);
  });

  it('says that a sole is not there', () => {
    expect(repair(cases[4][1]).warnings.join()).toContain('no sole');
  });
});

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

  it('keeps both sides of a shell and says so; of two loose walls it keeps the one asked for', () => {
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
    const [outer, inside] = [repair(loose), repair(loose, 'inside')];
    for (const cast of [outer, inside]) {
      expectSound(cast);
      expect(cast.warnings.join()).toContain('surface');
    }
    expect(surfaceArea(outer.mesh)).toBeCloseTo(surfaceArea(outside), 6);
    expect(surfaceArea(inside.mesh)).toBeLessThan(0.95 * surfaceArea(outer.mesh));
  });

  it('says it when loose pieces of some size are left out', () => {
    const cast = repair(merged(openFoot, moved(icosphere(25, 3), 100, 200, 0)));
    expect(cast.repairs.piecesDropped).toBe(1);
    expect(cast.warnings.join()).toContain('Loose pieces');
  });
});

describe('repairCast refuses', () => {
  it('a scan in shards, and two casts in one file', () => {
    const random = rng(99);
    const shards = { positions: foot.positions, triangles: foot.triangles.filter(((kept) => (_: number, h: number) => kept[Math.floor(h / 3)] === 1)(Uint8Array.from({ length: foot.triangles.length / 3 }, () => (random.next() < 0.5 ? 1 : 0)))) };
    expect(codeOf(shards)).toBe('fragmented-scan');
    expect(codeOf(merged(openFoot, moved(openFoot, 0, 200, 0)))).toBe('fragmented-scan');
  });

  it('a scan with more than a third missing, and not one with sole and top open', () => {
    expect(codeOf(cutAway(foot, (_x, _y, z) => z > 22))).toBe('too-much-missing');
    expect(codeOf(cutAway(openFoot, (_x, _y, z) => z < 8))).toBeNull();
  });
});

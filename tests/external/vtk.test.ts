import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { nearestOnSurface, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { section } from '@cast-to-last/geometry/sections/section';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { footShape } from '../support/foot-shape.ts';
import { uvTorus } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

/**
 * Reference: VTK 9.1 (Debian's python3-vtk9), the Visualization Toolkit, by vtk-figures.py: vtkCutter for sections,
 * vtkMultiObjectMassProperties for area and volume, vtkImplicitPolyDataDistance for distances, vtkConvexHull2D for hulls.
 */
const PYTHON = '/usr/bin/python3';
const PROGRAM = fileURLToPath(new URL('vtk-figures.py', import.meta.url));

interface Figures {
  readonly area: number;
  readonly volume: number;
  readonly cuts: readonly number[];
  readonly distances: readonly number[];
}

const phantom = makePhantom(96, { triangles: 8000, denseTriangles: 8000, side: 'left', posed: false, top: 'capped', dents: 3, bumps: 0, ridges: 1, seam: false, holes: 0, debris: false, missingSole: false, noise: 0 });
const SHAPES: readonly (readonly [string, Mesh])[] = [
  ['foot shape', footShape()], ['torus', uvTorus(60, 25, 96, 48)], ['ellipsoid', ellipsoid([130, 45, 35], [0, 0, 0], 5)], ['phantom 96', phantom.scan],
];

const asked = SHAPES.map(([, mesh], seed) => {
  const random = rng(seed + 1);
  const near = (spread: number): number[] => {
    const v = 3 * random.below(mesh.positions.length / 3);
    const d = random.direction();
    return [0, 1, 2].map((k) => mesh.positions[v + k] + spread * d[k]);
  };
  const planes = Array.from({ length: 25 }, () => {
    const normal = [...random.direction()];
    const [x, y, z] = near(2);
    return { normal, offset: normal[0] * x + normal[1] * y + normal[2] * z };
  });
  return { mesh: { positions: [...mesh.positions], triangles: [...mesh.triangles] }, planes, points: Array.from({ length: 100 }, (_, i) => near(i % 2 === 0 ? 3 : 40)) };
});

/** Points in the plane z = 0: at random, on a grid with many in one line, and those of sections. */
const clouds = [1, 2, 3, 4].map((seed) => {
  const random = rng(seed);
  return Array.from({ length: 4 + random.below(200) }, () => (seed % 2 === 0 ? [random.below(20), random.below(9), 0] : [40 * random.normal(), 25 * random.normal(), 0])).flat();
});
const rings = SHAPES.flatMap(([, mesh]) => section(mesh, twins(mesh), [0, 0, 1], mesh.positions[2] + 1e-3).map(({ points }) => [...points].map((value, i) => (i % 3 === 2 ? 0 : value))));
const hulls = [...clouds, ...rings];

function cutLength(mesh: Mesh, normal: readonly number[], offset: number): number {
  let sum = 0;
  for (const { points, closed } of section(mesh, twins(mesh), normal, offset)) {
    const count = points.length / 3;
    for (let i = 0; i + (closed ? 0 : 1) < count; i++) {
      const j = (i + 1) % count;
      sum += Math.hypot(points[3 * i] - points[3 * j], points[3 * i + 1] - points[3 * j + 1], points[3 * i + 2] - points[3 * j + 2]);
    }
  }
  return sum;
}

let told: { readonly version: string; readonly meshes: readonly Figures[]; readonly hulls: readonly number[] };
beforeAll(() => {
  const { status, stdout, stderr } = spawnSync(PYTHON, [PROGRAM], { input: JSON.stringify({ meshes: asked, hulls }), encoding: 'utf8', maxBuffer: 64e6 });
  if (status !== 0) throw new Error(`VTK gave no figures: ${stderr}`);
  told = JSON.parse(stdout);
});

describe.each(SHAPES.map(([name, mesh], i) => [name, i, mesh] as const))('%s', (_name, i, mesh) => {
  it('has the area and the volume that VTK finds', () => {
    expect(told.version).toMatch(/^9\./);
    expect(surfaceArea(mesh) / told.meshes[i].area).toBeCloseTo(1, 9);
    expect(signedVolume(mesh) / told.meshes[i].volume).toBeCloseTo(1, 9);
  });

  it('has sections as long as those of vtkCutter', () => {
    const differences = asked[i].planes.map(({ normal, offset }, k) => Math.abs(cutLength(mesh, normal, offset) - told.meshes[i].cuts[k]));
    expect(Math.max(...differences)).toBeLessThan(1e-6);
    expect(told.meshes[i].cuts.reduce((a, b) => a + b)).toBeGreaterThan(2000);
  });

  it('is as far from points as VTK finds', () => {
    const tree = surfaceTree(mesh);
    const nearest = newNearestPoint();
    const differences = asked[i].points.map(([x, y, z], k) => {
      nearestOnSurface(tree, x, y, z, nearest);
      return Math.abs(nearest.distance - told.meshes[i].distances[k]);
    });
    expect(Math.max(...differences)).toBeLessThan(1e-4);
  });
});

it('a tape is as long as the hull of vtkConvexHull2D, round random points, points in line and sections', () => {
  expect(rings.length).toBeGreaterThanOrEqual(SHAPES.length);
  // It hands out 32-bit floats: 1e-5 mm at 100 mm, on some dozen corners.
  const differences = hulls.map((flat, i) => Math.abs(tapeRound(Float64Array.from(flat), [1, 0, 0], [0, 1, 0]).length - told.hulls[i]));
  expect(Math.max(...differences)).toBeLessThan(1e-4);
});

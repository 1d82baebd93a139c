import ManifoldModule from 'manifold-3d';
import { BufferAttribute, BufferGeometry, Line3, Plane, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { signedVolume, surfaceArea } from '@cast-to-last/geometry/mesh/quantities';
import { section } from '@cast-to-last/geometry/sections/section';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { footShape } from '../support/foot-shape.ts';
import { uvTorus } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

/** Sections, hulls, volume and area against general-purpose libraries: three-mesh-bvh 0.9, manifold-3d 3.5. */

const phantom = makePhantom(95, { triangles: 8000, denseTriangles: 8000, side: 'right', posed: false, top: 'capped', dents: 3, bumps: 0, ridges: 1, seam: false, holes: 0, debris: false, missingSole: false, noise: 0 });
const shapes: readonly (readonly [string, number, Mesh])[] = [
  ['foot shape', 1, footShape()],
  ['torus', 2, uvTorus(60, 25, 96, 48)],
  ['ellipsoid', 3, ellipsoid([130, 45, 35], [0, 0, 0], 5)],
  ['phantom 95', 4, phantom.scan],
];

const lengthOf = (mesh: Mesh, n: readonly number[], offset: number): number =>
  section(mesh, twins(mesh), n, offset).reduce((sum, { points, closed }) => {
    const count = points.length / 3;
    for (let i = 0; i + (closed ? 0 : 1) < count; i++) {
      const j = (i + 1) % count;
      sum += Math.hypot(points[3 * i] - points[3 * j], points[3 * i + 1] - points[3 * j + 1], points[3 * i + 2] - points[3 * j + 2]);
    }
    return sum;
  }, 0);

/** Total length of the plane's section by three-mesh-bvh: a shape cast that cuts every triangle it is handed. */
function lengthByBvh(tree: MeshBVH, n: readonly number[], offset: number): number {
  const plane = new Plane(new Vector3(n[0], n[1], n[2]), -offset);
  const edge = new Line3();
  let sum = 0;
  tree.shapecast({
    intersectsBounds: (box) => plane.intersectsBox(box),
    intersectsTriangle: (triangle) => {
      const ends: Vector3[] = [];
      for (const [a, b] of [[triangle.a, triangle.b], [triangle.b, triangle.c], [triangle.c, triangle.a]]) {
        edge.set(a, b);
        const at = plane.intersectLine(edge, new Vector3());
        if (at !== null) ends.push(at);
      }
      if (ends.length === 2) sum += ends[0].distanceTo(ends[1]);
      return false;
    },
  });
  return sum;
}

describe.each(shapes)('%s (seed %i)', (_, seed, mesh) => {
  it('sections by 40 planes are as long as those of three-mesh-bvh', () => {
    const geometry = new BufferGeometry();
    // It computes in 32-bit floats: 1e-5 mm at 300 mm, on some hundred segments.
    geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3));
    geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
    const tree = new MeshBVH(geometry);
    const random = rng(seed);
    let total = 0;
    for (let i = 0; i < 40; i++) {
      const n = random.direction();
      const v = 3 * random.below(mesh.positions.length / 3);
      const offset = n[0] * mesh.positions[v] + n[1] * mesh.positions[v + 1] + n[2] * mesh.positions[v + 2] + random.range(-2, 2);
      const length = lengthOf(mesh, n, offset);
      expect(Math.abs(length - lengthByBvh(tree, n, offset))).toBeLessThan(0.02);
      total += length;
    }
    expect(total).toBeGreaterThan(2000);
  });

  it('volume and area are those of manifold-3d', async () => {
    const found = await withSolids((scope) => {
      const solid = scope.ofMesh(mesh);
      return { volume: solid.volume, area: solid.area };
    });
    expect(found.volume / signedVolume(mesh)).toBeCloseTo(1, 5);
    expect(found.area / surfaceArea(mesh)).toBeCloseTo(1, 5);
  });
});

describe('hulls by manifold-3d', () => {
  let library: Awaited<ReturnType<typeof ManifoldModule>>;
  beforeAll(async () => {
    library = await ManifoldModule();
    library.setup();
  });

  it.each([1, 2, 3, 4, 5])('the tape round random points is the outline of their hull (seed %i)', (seed) => {
    const random = rng(seed);
    const points = Array.from({ length: 4 + random.below(200) }, (): [number, number] => (seed % 2 === 0 ? [random.below(20), random.below(9)] : [40 * random.normal(), 25 * random.normal()]));
    const hull = library.CrossSection.hull([points]);
    const [outline] = hull.toPolygons();
    const length = outline.reduce((sum, [x, y], i) => {
      const [a, b] = outline[(i + 1) % outline.length];
      return sum + Math.hypot(a - x, b - y);
    }, 0);
    hull.delete();
    const tape = tapeRound(Float64Array.from(points.flatMap(([x, y]) => [x, y, 0])), [1, 0, 0], [0, 1, 0]);
    expect(tape.length).toBeCloseTo(length, 4);
    expect(tape.corners.length).toBe(outline.length);
  });
});

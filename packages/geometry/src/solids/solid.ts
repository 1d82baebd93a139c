import initManifold from 'manifold-3d';
import type { Manifold, ManifoldToplevel, Mat4 } from 'manifold-3d';
import type { Mesh } from '../mesh/mesh.js';
import type { Transform } from '../numerics/transform.js';

/** Why a mesh is no solid, or an operation gave none. Kebab-case and stable. */
export type SolidProblem = 'not-manifold' | 'not-finite' | 'inside-out' | 'empty' | 'bad-index' | 'failed';

export class SolidError extends Error {
  override readonly name = 'SolidError';
  readonly code: SolidProblem;

  constructor(code: SolidProblem, problem: string) {
    super(problem);
    this.code = code;
  }
}

/**
 * A closed, manifold, outward body in the unit of its mesh. It lives until its scope ends; no operation changes it.
 * The kernel computes in double precision but takes and gives float32 coordinates.
 */
export interface Solid {
  readonly volume: number;
  readonly area: number;
  readonly triangles: number;
  /** Handles: 0 for a ball, 1 for a torus; of one piece only. */
  readonly genus: number;
  /** minX, minY, minZ, maxX, maxY, maxZ. */
  readonly bounds: Float64Array;
  /** True where nothing is left, as after a cut that misses nothing. */
  readonly isEmpty: boolean;
  /** The part with normal · x ≥ offset, closed by the plane. `normal` need not have unit length; `offset` is along the unit normal. */
  trimByPlane(normal: readonly [number, number, number], offset: number): Solid;
  union(other: Solid): Solid;
  subtract(other: Solid): Solid;
  intersect(other: Solid): Solid;
  /** The solid moved, turned or scaled; a map that mirrors keeps it outward. */
  transform(map: Transform): Solid;
  /** The connected pieces, largest volume first. */
  decompose(): Solid[];
  /** The same with fewer triangles: no surface moves by more than `tolerance`, and the vertices left stay where they are. */
  simplified(tolerance: number): Solid;
  /** The least convex solid that holds it; its vertices are vertices of this one. */
  hull(): Solid;
  /** A closed mesh of its own, outside the kernel's memory. Order of vertices and triangles is the kernel's. */
  toMesh(): Mesh;
  /** Frees the kernel's memory before the scope ends; the solid is not to be used after it. */
  release(): void;
}

/** Makes solids that live until the scope ends. */
export interface SolidScope {
  /**
   * Takes a mesh whose triangles share vertices by index. Throws SolidError: `not-manifold` where an edge is not met
   * once in each direction, `inside-out` where the volume is negative, `not-finite`, `bad-index`, `empty`.
   */
  ofMesh(mesh: Mesh): Solid;
  /** A box by its corners of least and greatest x, y, z. */
  box(min: readonly [number, number, number], max: readonly [number, number, number]): Solid;
  /** A cylinder about the z axis from z = 0 to z = height with `segments` sides. */
  cylinder(radius: number, height: number, segments: number): Solid;
  /**
   * What the outlines cover, from z = 0 to z = height. Each outline is x, y pairs of a simple polygon that turns left; they
   * may overlap and touch. Empty where there is no outline.
   */
  prism(outlines: readonly Float64Array[], height: number): Solid;
  /** All of them in one; empty for none. */
  union(solids: readonly Solid[]): Solid;
  /**
   * Where `field` is greater than `level`, closed where it meets the box's sides. The field is read at points about `edge`
   * apart, so what is thinner than that may be lost. May be empty.
   *
   * @param box minX, minY, minZ, maxX, maxY, maxZ
   */
  levelSet(field: (x: number, y: number, z: number) => number, box: ArrayLike<number>, edge: number, level: number): Solid;
}

let loading: Promise<ManifoldToplevel> | null = null;

/** The kernel, compiled once a process or worker thread (about 15 ms). */
function load(): Promise<ManifoldToplevel> {
  loading ??= initManifold().then((kernel) => {
    kernel.setup();
    return kernel;
  });
  return loading;
}

/**
 * Runs `work` with a scope for solids and frees all of them when it ends, well or badly. `work` must not be async and
 * must not let solids out; meshes and numbers may leave.
 *
 * @example const { mesh, volume } = await withSolids((scope) => {
 *   const last = scope.ofMesh(mesh).trimByPlane([0, 0, -1], -90);
 *   return { mesh: last.toMesh(), volume: last.volume };
 * });
 */
export async function withSolids<T>(work: (scope: SolidScope) => T): Promise<T> {
  const kernel = await load();
  const held = new Set<Manifold>();
  try {
    return work(makeScope(kernel, held));
  } finally {
    for (const manifold of held) manifold.delete();
  }
}

function makeScope(kernel: ManifoldToplevel, held: Set<Manifold>): SolidScope {
  const inner = new WeakMap<Solid, Manifold>();

  const wrap = (manifold: Manifold): Solid => {
    held.add(manifold);
    const status = manifold.status();
    if (status !== 'NoError') throw new SolidError(status === 'NonFiniteVertex' ? 'not-finite' : 'failed', `The solid kernel says ${status}.`);
    const solid: Solid = {
      get volume() { return manifold.volume(); },
      get area() { return manifold.surfaceArea(); },
      get triangles() { return manifold.numTri(); },
      get genus() { return manifold.genus(); },
      get bounds() {
        const { min, max } = manifold.boundingBox();
        return new Float64Array([...min, ...max]);
      },
      get isEmpty() { return manifold.isEmpty(); },
      trimByPlane: (normal, offset) => wrap(manifold.trimByPlane([...normal], offset)),
      union: (other) => wrap(manifold.add(kernelOf(other))),
      subtract: (other) => wrap(manifold.subtract(kernelOf(other))),
      intersect: (other) => wrap(manifold.intersect(kernelOf(other))),
      simplified: (tolerance) => wrap(manifold.simplify(tolerance)),
      hull: () => wrap(manifold.hull()),
      transform: (map) => wrap(manifold.transform(byColumns(map))),
      decompose: () => manifold.decompose().map(wrap).sort((a, b) => b.volume - a.volume),
      toMesh: () => meshOf(manifold),
      release: () => {
        if (held.delete(manifold)) manifold.delete();
      },
    };
    inner.set(solid, manifold);
    return solid;
  };

  const kernelOf = (solid: Solid): Manifold => {
    const manifold = inner.get(solid);
    if (manifold === undefined) throw new Error('A solid is used outside the scope that made it.');
    return manifold;
  };

  return {
    ofMesh: (mesh) => {
      const solid = wrap(manifoldOf(kernel, mesh));
      if (solid.isEmpty) throw new SolidError('empty', 'The mesh has no inside.');
      if (solid.volume < 0) throw new SolidError('inside-out', 'The mesh is closed, but its triangles face inward.');
      return solid;
    },
    box: (min, max) => wrap(moved(kernel.Manifold.cube([max[0] - min[0], max[1] - min[1], max[2] - min[2]]), min)),
    cylinder: (radius, height, segments) => wrap(kernel.Manifold.cylinder(height, radius, radius, segments)),
    prism: (outlines, height) => wrap(prismOf(kernel, outlines, height)),
    union: (solids) => wrap(kernel.Manifold.union(solids.map(kernelOf))),
    levelSet: (field, box, edge, level) =>
      wrap(kernel.Manifold.levelSet(([x, y, z]) => field(x, y, z), { min: [box[0], box[1], box[2]], max: [box[3], box[4], box[5]] }, edge, level)),
  };
}

function moved(manifold: Manifold, by: readonly [number, number, number]): Manifold {
  try {
    return manifold.translate([...by]);
  } finally {
    manifold.delete();
  }
}

/** The kernel's matrices run down the columns. */
function byColumns(map: Transform): Mat4 {
  return Array.from({ length: 16 }, (_, i) => map[4 * (i % 4) + ((i / 4) | 0)]) as Mat4;
}

function prismOf(kernel: ManifoldToplevel, outlines: readonly Float64Array[], height: number): Manifold {
  if (outlines.length === 0) return kernel.Manifold.union([]);
  const polygons = outlines.map((outline) => Array.from({ length: outline.length / 2 }, (_, i): [number, number] => [outline[2 * i], outline[2 * i + 1]]));
  const flat = kernel.CrossSection.ofPolygons(polygons, 'Positive');
  try {
    return kernel.Manifold.extrude(flat, height);
  } finally {
    flat.delete();
  }
}

function manifoldOf(kernel: ManifoldToplevel, mesh: Mesh): Manifold {
  const vertices = mesh.positions.length / 3;
  if (mesh.triangles.length === 0) throw new SolidError('empty', 'The mesh has no triangles.');
  const bad = mesh.triangles.findIndex((v) => v >= vertices);
  if (bad >= 0) throw new SolidError('bad-index', `A triangle uses vertex ${mesh.triangles[bad]} of ${vertices}.`);
  try {
    return kernel.Manifold.ofMesh(new kernel.Mesh({ numProp: 3, vertProperties: new Float32Array(mesh.positions), triVerts: mesh.triangles }));
  } catch (error) {
    const status = error instanceof Error ? error.message : String(error);
    if (/finite/i.test(status)) throw new SolidError('not-finite', 'The mesh holds coordinates that are no numbers.');
    if (/manifold/i.test(status)) throw new SolidError('not-manifold', 'The mesh is not closed and manifold: an edge is not met once in each direction.');
    throw new SolidError('failed', `The solid kernel refuses the mesh: ${status}.`);
  }
}

/** The kernel's mesh with vertices that it holds twice (for its own properties) made one again. */
function meshOf(manifold: Manifold): Mesh {
  const out = manifold.getMesh();
  const stride = out.numProp;
  const count = out.numVert;
  const to = new Uint32Array(count);
  for (let v = 0; v < count; v++) to[v] = v;
  const { mergeFromVert: from, mergeToVert: into } = out;
  for (let i = 0; i < (from?.length ?? 0); i++) to[from[i]] = into[i];
  const place = new Uint32Array(count);
  const positions = new Float64Array(3 * count);
  let kept = 0;
  for (let v = 0; v < count; v++) {
    if (to[v] !== v) continue;
    for (let k = 0; k < 3; k++) positions[3 * kept + k] = out.vertProperties[stride * v + k];
    place[v] = kept++;
  }
  const triangles = new Uint32Array(out.triVerts.length);
  for (let i = 0; i < triangles.length; i++) {
    let v = out.triVerts[i];
    while (to[v] !== v) v = to[v];
    triangles[i] = place[v];
  }
  return { positions: positions.slice(0, 3 * kept), triangles };
}

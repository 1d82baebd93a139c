import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { makePhantom } from '../phantoms/make-phantom.ts';
import type { Phantom } from '../phantoms/make-phantom.ts';
import { flipped, merged } from './meshes.ts';

/** A smooth foot without toes of its own, in the foot frame, its top cut off: the foot's own surface, outward. */
export const bareFoot = (seed: number, triangles = 20_000): Phantom =>
  makePhantom(seed, {
    family: 'blunt', triangles, denseTriangles: triangles, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false,
    noise: 0, weave: 0, top: 'cut', posed: false, unit: 'mm', side: 'right',
  });

/** The surface at a distance outside; for surfaces that bend inward nowhere more sharply than that. */
function outsideOf(inner: Mesh, wall: number | ((vertex: number) => number)): Mesh {
  const normals = vertexNormals(inner);
  const thickness = typeof wall === 'number' ? () => wall : wall;
  return { positions: inner.positions.map((c, i) => c + thickness((i / 3) | 0) * normals[i]), triangles: inner.triangles };
}

/** The strip between the edges of an inner surface and the outer one made of it, facing up. Vertices: inner, then outer. */
function rimStrip(inner: Mesh, widthwise: number): { points: number[]; triangles: number[]; loop: Uint32Array } {
  const loop = boundaryLoops(inner).sort((a, b) => b.length - a.length)[0];
  const n = inner.positions.length / 3;
  const points: number[] = [];
  const triangles: number[] = [];
  const p = inner.positions;
  const normals = vertexNormals(inner);
  const at = (i: number, j: number): number => (j === 0 ? loop[i % loop.length] : 2 * n + (i % loop.length) * (widthwise - 1) + j - 1);
  for (const v of loop) {
    for (let j = 1; j < widthwise; j++) for (let k = 0; k < 3; k++) points.push(p[3 * v + k] + (j / widthwise) * normals[3 * v + k]);
  }
  const vertex = (i: number, j: number): number => (j === widthwise ? n + loop[i % loop.length] : at(i, j));
  for (let i = 0; i < loop.length; i++) {
    for (let j = 0; j < widthwise; j++) {
      const [a, b, c, d] = [vertex(i, j), vertex(i + 1, j), vertex(i, j + 1), vertex(i + 1, j + 1)];
      triangles.push(a, b, c, b, d, c);
    }
  }
  return { points, triangles, loop };
}

export interface Shell {
  readonly inner: Mesh;
  readonly outer: Mesh;
  /** Both sides joined over the rim: closed, plaster inside. */
  readonly closed: Mesh;
  /** The outer side with the flat edge at the top. */
  readonly outerWithRim: Mesh;
}

/** The shell of a foot: all its sides as a scanner may see them. */
export function shellOf(inner: Mesh, wall: number | ((vertex: number) => number)): Shell {
  const outer = outsideOf(inner, wall);
  const both = merged(flipped(inner), outer);
  const strip = rimStrip(inner, 3);
  const n = inner.positions.length / 3;
  const q = outer.positions;
  // The strip's points were put at shares of 1 mm along the normals; they belong at those shares of the wall.
  strip.loop.forEach((v, i) => {
    for (let j = 0; j < 2; j++) {
      for (let k = 0; k < 3; k++) {
        const at = 3 * (2 * i + j) + k;
        strip.points[at] = inner.positions[3 * v + k] + ((j + 1) / 3) * (q[3 * v + k] - inner.positions[3 * v + k]);
      }
    }
  });
  const positions = new Float64Array([...both.positions, ...strip.points]);
  const closed = { positions, triangles: new Uint32Array([...both.triangles, ...strip.triangles]) };
  const outerWithRim = { positions, triangles: new Uint32Array([...outer.triangles.map((v) => v + n), ...strip.triangles]) };
  return { inner, outer, closed, outerWithRim };
}

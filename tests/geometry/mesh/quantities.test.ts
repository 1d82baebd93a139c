import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds, diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { eulerCharacteristic, meanEdgeLength, signedVolume, surfaceArea, triangleNormals, vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { posed } from '../../support/disturb.ts';
import { asSoup, box, closedCylinder, flipped, gridPlane, icosphere, merged, openCylinder, uvTorus } from '../../support/meshes.ts';
import { rng } from '../../support/rng.ts';

const euler = (mesh: Mesh): number => eulerCharacteristic(mesh, twins(mesh));
/** The area of a regular polygon of n corners on the circle of radius r, and its perimeter. */
const polygon = (n: number, r: number): number => 0.5 * n * r * r * Math.sin((2 * Math.PI) / n);
const round = (n: number, r: number): number => 2 * n * r * Math.sin(Math.PI / n);

describe('volume and area', () => {
  it('of a box are exact', () => {
    expect(signedVolume(box(3, 5, 7, 4))).toBeCloseTo(105, 10);
    expect(surfaceArea(box(3, 5, 7, 4))).toBeCloseTo(2 * (15 + 21 + 35), 10);
  });

  it('of a cylinder are those of the prism of its corners', () => {
    const mesh = closedCylinder(10, 30, 24, 5);
    expect(signedVolume(mesh)).toBeCloseTo(30 * polygon(24, 10), 8);
    expect(surfaceArea(mesh)).toBeCloseTo(2 * polygon(24, 10) + 30 * round(24, 10), 8);
    expect(surfaceArea(openCylinder(10, 30, 24, 5))).toBeCloseTo(30 * round(24, 10), 8);
  });

  it('of a sphere fall short of 4πr³/3 and 4πr² by a share that quarters with each split', () => {
    const short = (k: number): number[] => [1 - signedVolume(icosphere(20, k)) / ((4 / 3) * Math.PI * 8000), 1 - surfaceArea(icosphere(20, k)) / (4 * Math.PI * 400)];
    const [coarse, fine] = [short(3), short(4)];
    for (const i of [0, 1]) {
      expect(fine[i]).toBeGreaterThan(0);
      expect(fine[i]).toBeLessThan(0.003);
      expect(coarse[i] / fine[i]).toBeCloseTo(4, 1);
    }
  });

  it('of a torus are 2π²Rr² and 4π²Rr less what chords of both circles lose', () => {
    const mesh = uvTorus(30, 10, 240, 120);
    // Second order: 1 − (2π/n)²/6 for each polygon's area; half that for lengths.
    expect(signedVolume(mesh) / (2 * Math.PI ** 2 * 30 * 100)).toBeCloseTo(1 - (2 * Math.PI / 240) ** 2 / 6 - (2 * Math.PI / 120) ** 2 / 6, 4);
    expect(surfaceArea(mesh) / (4 * Math.PI ** 2 * 30 * 10)).toBeCloseTo(1, 3);
  });

  it.each([1, 2, 3])('stay what they are wherever the mesh lies (seed %i); the volume turns sign with the triangles', (seed) => {
    const mesh = uvTorus(30, 10, 24, 16);
    const moved = posed(mesh, 300, rng(seed));
    expect(signedVolume(moved) / signedVolume(mesh)).toBeCloseTo(1, 9);
    expect(surfaceArea(moved) / surfaceArea(mesh)).toBeCloseTo(1, 12);
    expect(signedVolume(flipped(mesh))).toBeCloseTo(-signedVolume(mesh), 8);
  });

  it('of nothing are 0', () => {
    const nothing = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    expect([signedVolume(nothing), surfaceArea(nothing), meanEdgeLength(nothing)]).toEqual([0, 0, 0]);
  });
});

describe('Euler characteristic', () => {
  it.each([
    ['sphere', icosphere(1, 2), 2],
    ['torus', uvTorus(3, 1, 12, 8), 0],
    ['box', box(1, 1, 1, 3), 2],
    ['closed cylinder', closedCylinder(1, 2, 12, 3), 2],
    ['tube', openCylinder(1, 2, 12, 3), 0],
    ['sheet', gridPlane(4, 5, 1), 1],
    ['two spheres', merged(icosphere(1, 1), icosphere(2, 1)), 4],
    ['twenty triangles that share nothing', asSoup(icosphere(1, 0)), 20],
  ])('%s', (_, mesh, expected) => {
    expect(euler(mesh)).toBe(expected);
  });

  it('leaves out vertices that no triangle uses', () => {
    const sphere = icosphere(1, 1);
    expect(euler({ ...sphere, positions: new Float64Array([...sphere.positions, 9, 9, 9]) })).toBe(2);
  });
});

describe('normals', () => {
  it('of triangles are twice their area long and point outward', () => {
    const n = triangleNormals(gridPlane(2, 2, 4));
    for (let i = 0; i < n.length; i += 3) expect([...n.subarray(i, i + 3)]).toEqual([0, 0, 4]);
  });

  it('of a sphere\'s vertices are unit and radial within 0.5° at 5120 triangles', () => {
    const sphere = icosphere(10, 4);
    const n = vertexNormals(sphere);
    for (let i = 0; i < n.length; i += 3) {
      expect(Math.hypot(n[i], n[i + 1], n[i + 2])).toBeCloseTo(1, 12);
      const dot = (n[i] * sphere.positions[i] + n[i + 1] * sphere.positions[i + 1] + n[i + 2] * sphere.positions[i + 2]) / 10;
      expect(dot).toBeGreaterThan(Math.cos(0.5 * (Math.PI / 180)));
    }
  });

  it('are weighted by area, and 0 where there is none', () => {
    // Vertex 0 has a triangle of area 2 facing +z and one of area 1 facing +x, and vertex 5 none.
    const mesh = { positions: new Float64Array([0, 0, 0, 2, 0, 0, 0, 2, 0, 0, 1, 0, 0, 0, 2, 7, 7, 7]), triangles: new Uint32Array([0, 1, 2, 0, 3, 4]) };
    const n = vertexNormals(mesh);
    expect(n[0]).toBeCloseTo(1 / Math.sqrt(5), 12);
    expect(n[2]).toBeCloseTo(2 / Math.sqrt(5), 12);
    expect([...n.subarray(15)]).toEqual([0, 0, 0]);
  });
});

describe('extent', () => {
  it('is the least box round the vertices, and its diagonal', () => {
    const { positions } = box(3, 4, 12);
    expect([...bounds(positions)]).toEqual([-1.5, -2, -6, 1.5, 2, 6]);
    expect(diagonal(positions)).toBe(13);
    expect([...bounds(new Float64Array(0))]).toEqual([Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]);
  });

  it('of edges: their mean, each counted for every triangle it bounds', () => {
    // One right triangle of sides 3, 4 and 5.
    expect(meanEdgeLength({ positions: new Float64Array([0, 0, 0, 3, 0, 0, 0, 4, 0]), triangles: new Uint32Array([0, 1, 2]) })).toBe(4);
    expect(meanEdgeLength(icosphere(1, 0))).toBeCloseTo(4 / Math.sqrt(10 + 2 * Math.sqrt(5)), 12);
  });
});

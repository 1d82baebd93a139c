import fc from 'fast-check';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

/** Meshes of any shape at all: finite coordinates, indices in range, every vertex used, no negative zeros. `float32` keeps numbers that fit. */
export const anyMesh = (float32: boolean): fc.Arbitrary<Mesh> =>
  fc.integer({ min: 1, max: 12 }).chain((triangles) =>
    fc.record({
      coordinates: fc.array(
        float32 ? fc.float({ noNaN: true, noDefaultInfinity: true }) : fc.double({ noNaN: true, noDefaultInfinity: true }),
        { minLength: 9, maxLength: 9 * triangles },
      ),
      corners: fc.array(fc.nat(), { minLength: 3 * triangles, maxLength: 3 * triangles }),
    }),
  ).map(({ coordinates, corners }) => {
    const vertices = Math.min(Math.floor(coordinates.length / 3), corners.length);
    // The first corners go round all vertices, so that none is left over.
    const triangles = Uint32Array.from(corners, (corner, i) => (i < vertices ? i : corner % vertices));
    return { positions: Float64Array.from(coordinates.slice(0, 3 * vertices), (c) => c + 0), triangles };
  });

// For tests/external/making-admesh.test.ts: in pieces cut by a wedge a corner lay a ten-thousandth of a millimetre off the edge across from it, and crossed what is behind that edge.
import { expect, it } from 'vitest';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { asWritten } from '@cast-to-last/pipeline/making/as-written';

it('a corner that all but lies on the edge across from it crosses nothing once it is written', () => {
  const [a, b, c, d, onEdge] = [0, 1, 2, 3, 4];
  const mesh = {
    positions: Float64Array.of(0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 10, 5, 1e-4, -1e-4),
    triangles: Uint32Array.of(a, c, b, a, d, c, b, c, d, a, onEdge, d, onEdge, b, d, a, b, onEdge),
  };
  expect(selfCrossings(mesh).includes(1)).toBe(true);
  const written = asWritten(mesh);
  expect(selfCrossings(written).includes(1)).toBe(false);
  expect(twins(written).every((h) => h >= 0)).toBe(true);
});

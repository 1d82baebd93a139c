import type { Mesh } from '../mesh/mesh.js';

/**
 * A closed, outward body of revolution with flat ends, as turned on a lathe.
 *
 * @param origin a point of the axis
 * @param axis unit 3-vector
 * @param profile [distance along the axis from the origin, radius] rising along the axis, radii above 0
 * @param sides corners of each ring; they lie on the radius
 */
export function turnedBody(origin: ArrayLike<number>, axis: ArrayLike<number>, profile: readonly (readonly [number, number])[], sides: number): Mesh {
  const [across, up] = crossAxes(axis);
  const rings = profile.length;
  const positions = new Float64Array(3 * (rings * sides + 2));
  const put = (v: number, along: number, a: number, b: number): void => {
    for (let k = 0; k < 3; k++) positions[3 * v + k] = origin[k] + along * axis[k] + a * across[k] + b * up[k];
  };
  profile.forEach(([along, radius], r) => {
    for (let s = 0; s < sides; s++) {
      const angle = (2 * Math.PI * s) / sides;
      put(r * sides + s, along, radius * Math.cos(angle), radius * Math.sin(angle));
    }
  });
  const first = rings * sides;
  const last = rings * sides + 1;
  put(first, profile[0][0], 0, 0);
  put(last, profile[rings - 1][0], 0, 0);
  const triangles: number[] = [];
  for (let s = 0; s < sides; s++) {
    const next = (s + 1) % sides;
    triangles.push(first, next, s);
    for (let r = 0; r + 1 < rings; r++) {
      const a = r * sides + s;
      const b = r * sides + next;
      const c = (r + 1) * sides + next;
      const d = (r + 1) * sides + s;
      triangles.push(a, b, c, a, c, d);
    }
    triangles.push(last, (rings - 1) * sides + s, (rings - 1) * sides + next);
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}

/** Two unit vectors that make a right-handed frame with a unit vector before them: across × up = axis. */
export function crossAxes(axis: ArrayLike<number>): [[number, number, number], [number, number, number]] {
  // The coordinate axis that the vector leans on least.
  const sizes = [0, 1, 2].map((k) => Math.abs(axis[k]));
  const least = sizes.indexOf(Math.min(...sizes));
  const e = [0, 0, 0].map((_, k) => (k === least ? 1 : 0) - axis[least] * axis[k]);
  const length = Math.hypot(...e);
  const a: [number, number, number] = [e[0] / length, e[1] / length, e[2] / length];
  return [a, [axis[1] * a[2] - axis[2] * a[1], axis[2] * a[0] - axis[0] * a[2], axis[0] * a[1] - axis[1] * a[0]]];
}

import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';

const AROUND = 96;
/** Longest step along the profile, mm. */
const STEP = 2;

/**
 * A body of revolution about the z axis from its profile of [radius, z], upwards, faced outward. It is closed where the profile
 * ends at radius 0 and open where it does not. mm
 */
export function turned(profile: readonly (readonly [number, number])[]): Mesh {
  const rows: [number, number][] = [[...profile[0]]];
  for (let k = 1; k < profile.length; k++) {
    const [[r0, z0], [r1, z1]] = [profile[k - 1], profile[k]];
    const steps = Math.max(1, Math.ceil(Math.hypot(r1 - r0, z1 - z0) / STEP));
    for (let s = 1; s <= steps; s++) rows.push([r0 + ((r1 - r0) * s) / steps, z0 + ((z1 - z0) * s) / steps]);
  }
  const closed = rows[rows.length - 1][0] === 0;
  const rings = closed ? rows.slice(0, -1) : rows;
  const positions = rings.flatMap(([r, z]) => Array.from({ length: AROUND }, (_, i) => [r * Math.cos((2 * Math.PI * i) / AROUND), r * Math.sin((2 * Math.PI * i) / AROUND), z]).flat());
  const triangles: number[] = [];
  for (let row = 0; row < rings.length; row++) {
    for (let i = 0; i < AROUND; i++) {
      const [a, b] = [row * AROUND + i, row * AROUND + ((i + 1) % AROUND)];
      if (row + 1 < rings.length) triangles.push(a, b, a + AROUND, b, b + AROUND, a + AROUND);
      else if (closed) triangles.push(a, b, rings.length * AROUND);
    }
  }
  if (closed) positions.push(0, 0, rows[rows.length - 1][1]);
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

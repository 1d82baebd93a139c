import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { ExactMesh } from '../surface/densify.js';
import type { Random } from '../random.js';
import type { Missing } from './position.js';

/** Triangles of a right foot's surface in the foot frame that the scan lacks; 1 = gone. */
export function missingParts(mesh: ExactMesh, landmarks: Landmarks, missing: Missing, random: Random): Uint8Array {
  return missing.kind === 'toes' ? openToes(mesh, landmarks, missing.depthMm, random) : patch(mesh, landmarks, missing, random);
}

/** What lies ahead of a ragged, slanting edge across the toes. */
function openToes({ positions: p, triangles }: ExactMesh, { toeTip }: Landmarks, depth: number, random: Random): Uint8Array {
  const [turn, tilt] = [random.between(-0.12, 0.05), random.between(-0.25, 0.25)];
  const waves = [1, 2, 3].map((n) => ({ pitch: (2 * Math.PI * n) / 70, high: random.normal(0, 1.2 / n), phase: random.between(0, 6.3) }));
  return everyTriangle(triangles, (v) => {
    const [x, y, z] = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    const edge = toeTip[0] - depth + turn * (y - toeTip[1]) + tilt * (z - toeTip[2]) + waves.reduce((s, w) => s + w.high * Math.sin(w.pitch * y + w.phase), 0);
    return x > edge;
  });
}

/** A ragged patch about a place, as large as the share of the surface that is asked for. */
function patch({ positions: p, triangles }: ExactMesh, { footLength: fl, medialBall, lateralBall }: Landmarks, { place, share }: Extract<Missing, { kind: 'patch' }>, random: Random): Uint8Array {
  const centres = {
    heel: [0.03 * fl, 0, 0.12 * fl],
    instep: [0.6 * fl, 0, 0.19 * fl],
    'inner-side': [0.45 * fl, medialBall[1], 0.13 * fl],
    'outer-side': [0.42 * fl, lateralBall[1], 0.1 * fl],
    sole: [0.4 * fl, 0, 0],
  } as const;
  const [cx, cy, cz] = centres[place];
  const lobes = random.whole(2, 4);
  const phase = random.between(0, 6.3);
  const far = Float64Array.from({ length: p.length / 3 }, (_, v) => {
    const [x, y, z] = [p[3 * v] - cx, p[3 * v + 1] - cy, p[3 * v + 2] - cz];
    return Math.hypot(x, y, z) / (1 + 0.12 * Math.sin(lobes * Math.atan2(z + 0.5 * y, x) + phase));
  });
  const areas = Float64Array.from({ length: triangles.length / 3 }, (_, t) => areaOf(p, triangles, t));
  const whole = areas.reduce((s, a) => s + a, 0);
  let [low, high] = [0, fl];
  for (let step = 0; step < 30; step++) {
    const radius = (low + high) / 2;
    const gone = everyTriangle(triangles, (v) => far[v] < radius);
    const area = areas.reduce((s, a, t) => s + a * gone[t], 0);
    if (area < share * whole) low = radius;
    else high = radius;
  }
  return everyTriangle(triangles, (v) => far[v] < low);
}

const everyTriangle = (triangles: Uint32Array, gone: (vertex: number) => boolean): Uint8Array =>
  Uint8Array.from({ length: triangles.length / 3 }, (_, t) => (gone(triangles[3 * t]) ? 1 : 0));

function areaOf(p: Float64Array, triangles: Uint32Array, t: number): number {
  const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
  const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
  const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
  return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
}

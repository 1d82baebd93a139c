import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { lastRules } from '@cast-to-last/pipeline/rules/last-rules';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { makePhantom } from '../phantoms/make-phantom.js';

/** A surface as a body, with the landmarks of a foot 250 mm long that stands on z = 0 along x = 0 to 250. */
export function bodyOf(mesh: Mesh, landmarks: Partial<Landmarks> = {}): LastBody {
  const whole: Landmarks = {
    footLength: 250, pternion: [0, 0, 20], toeTip: [250, 0, 10], heelCentre: [40, 0, 0], ballCentre: [170, 0, 0],
    medialBall: [180, 45, 10], lateralBall: [160, -45, 10], instep: null, waist: null, crook: null, heelCorner: [10, 0, 5], ...landmarks,
  };
  return { mesh, opening: boundaryLoops(mesh)[0] ?? null, filled: new Uint8Array(mesh.positions.length / 3), landmarks: whole, side: 'right' };
}

export const shifted = (mesh: Mesh, by: readonly [number, number, number]): Mesh => ({ ...mesh, positions: mesh.positions.map((c, i) => c + by[i % 3]) });

/** A clean foot with an open top, in its foot frame. */
export function footBody(seed: number, side: 'left' | 'right'): LastBody {
  const { clean: mesh, landmarks } = makePhantom(seed, { triangles: 20_000, posed: false, side, top: 'cut', dents: 0, bumps: 0, ridges: 0, seam: false }).truth;
  return { mesh, opening: boundaryLoops(mesh)[0], filled: new Uint8Array(mesh.positions.length / 3), landmarks, side };
}

/** A rule file's `last`, with its defaults. */
export const closing = (rules: Record<string, unknown>): ReturnType<typeof lastRules.parse> => lastRules.parse(rules);

import type { Shares } from './flank-field.js';

/** What a change of the flanks does to a foot. */
export interface Strain {
  /** Farthest that a point moves, mm. */
  readonly most: number;
  /** By what share neighbouring points close up across the foot where they do so most. */
  readonly squeeze: number;
  /** How fast the move changes along the foot where it does so fastest, mm per mm. */
  readonly slope: number;
}

/** Read at some six thousand of the given points. */
export function strainOf(p: Float64Array, shares: Shares, amplitudes: Float64Array): Strain {
  const share = new Float64Array(3);
  const moveAt = (x: number, y: number, z: number): number => {
    shares(x, y, z, share);
    return amplitudes[0] * share[0] + amplitudes[1] * share[1] + amplitudes[2] * share[2];
  };
  const every = 3 * Math.max(1, Math.round(p.length / 3 / 6_000));
  let most = 0;
  let squeeze = 0;
  let slope = 0;
  for (let i = 0; i < p.length; i += every) {
    const x = p[i];
    const y = p[i + 1];
    const z = p[i + 2];
    most = Math.max(most, Math.abs(moveAt(x, y, z)));
    squeeze = Math.max(squeeze, moveAt(x, y - 0.5, z) - moveAt(x, y + 0.5, z));
    slope = Math.max(slope, Math.abs(moveAt(x + 0.5, y, z) - moveAt(x - 0.5, y, z)));
  }
  return { most, squeeze, slope };
}

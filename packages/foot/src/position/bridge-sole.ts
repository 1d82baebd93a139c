import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { joinedPatches } from '@cast-to-last/geometry/mesh/joined-patches';
import type { Plates } from './plates.js';
import { heightOverPlates } from './plates.js';
import { soleFlags } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';

/** Set on generated casts of the tuning range. */
export const BRIDGE = {
  /** Surface whose height over the plates is less lies on them, mm. */
  on: 0.3,
  /** Share of a patch's border on the plates from which on nothing of the patch is left beyond them, and it spans from border to border. */
  held: 0.2,
  spans: 0.5,
  /** Share of the border beyond the plates from which on they are no plates here. */
  beyond: 0.1,
  /** Vertices that a border needs. */
  leastBorder: 4,
  /** A patch is not taken to lie higher over the plates than this, mm. */
  highest: 3,
  /** Rounds of evening out, and how far each goes (over-relaxation). */
  rounds: 80,
  step: 1.6,
} as const;

/**
 * The cast with the doubtful patches of its sole brought to what the plates say of them: nothing of a sole that was
 * pressed on a plate lies beyond it, and a patch within pressed surface was pressed as well. Smoothing carries curvature
 * on over a mark, which errs by half a millimetre and more where the surface is flat beside a rounding.
 *
 * @param untouched vertices of the sole where no mark was smoothed and nothing filled
 * @returns the cast as it is read for planes of the sole; bridged surface no longer counts as not to be leaned on
 */
export function bridgeSole(cast: StandingCast, untouched: Uint32Array, plates: Plates): StandingCast {
  const positions = cast.mesh.positions.slice();
  const unsure = cast.unsure.slice();
  const { items, offsets } = rememberedNeighbours(cast.mesh);
  const isSole = soleFlags(cast);
  const over = new Float64Array(isSole.length);
  for (let v = 0, i = 0; v < isSole.length; v++, i += 3) if (isSole[v] === 1) over[v] = heightOverPlates(plates, positions[i], positions[i + 1], positions[i + 2]);
  const touched = isSole.slice();
  for (const v of untouched) touched[v] = 0;
  const doubtful = ringAdded(cast, isSole, touched);
  for (const patch of joinedPatches(cast.mesh, doubtful)) {
    const border = new Set<number>();
    for (const v of patch) {
      for (let k = offsets[v]; k < offsets[v + 1]; k++) if (isSole[items[k]] === 1 && doubtful[items[k]] === 0) border.add(items[k]);
    }
    const on = shareOf(border, (v) => Math.abs(over[v]) < BRIDGE.on);
    if (border.size < BRIDGE.leastBorder || on < BRIDGE.held || shareOf(border, (v) => over[v] < -BRIDGE.on) > BRIDGE.beyond) continue;
    for (const v of patch) over[v] = Math.max(0, Math.min(BRIDGE.highest, over[v]));
    if (on >= BRIDGE.spans) {
      evenOut(patch, over, isSole, items, offsets);
      for (const v of patch) unsure[v] = 0;
    }
    for (const v of patch) positions[3 * v + 2] -= heightOverPlates(plates, positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]) - over[v];
  }
  return { ...cast, mesh: { positions, triangles: cast.mesh.triangles }, unsure };
}

function shareOf(vertices: ReadonlySet<number>, is: (v: number) => boolean): number {
  let count = 0;
  for (const v of vertices) if (is(v)) count++;
  return count / vertices.size;
}

/** Every vertex of the patch the mean of its neighbours on the sole, as a skin spans a frame (Laplace's equation). */
function evenOut(patch: readonly number[], over: Float64Array, isSole: Uint8Array, items: Uint32Array, offsets: Uint32Array): void {
  for (let round = 0; round < BRIDGE.rounds; round++) {
    for (const v of patch) {
      let sum = 0;
      let count = 0;
      for (let k = offsets[v]; k < offsets[v + 1]; k++) {
        if (isSole[items[k]] === 0) continue;
        sum += over[items[k]];
        count++;
      }
      if (count > 0) over[v] += BRIDGE.step * (sum / count - over[v]);
    }
  }
}

/** The flags with a ring of vertices of the sole round them. */
function ringAdded({ mesh }: StandingCast, isSole: Uint8Array, flags: Uint8Array): Uint8Array {
  const { items, offsets } = rememberedNeighbours(mesh);
  const out = flags.slice();
  for (let v = 0; v < out.length; v++) {
    if (flags[v] === 0) continue;
    for (let k = offsets[v]; k < offsets[v + 1]; k++) if (isSole[items[k]] === 1) out[items[k]] = 1;
  }
  return out;
}

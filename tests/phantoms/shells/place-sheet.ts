import type { CutError } from './cut-error.js';
import type { NearSkin } from './near-skin.js';
import type { OpenSheet } from './open-cut.js';
import type { Opening, Shift } from './opening.js';
import type { BySpine } from './spine.js';
import type { Sections } from './sections.js';
import { smoothStep } from '../surface/implicit.js';

/** Where the vertices of a sheet come to lie, and their directions outward. */
export interface PlacedSheet {
  readonly positions: Float64Array;
  readonly normals: Float64Array;
}

export interface Placing {
  readonly sections: Sections;
  readonly skin: NearSkin;
  readonly error: CutError;
  readonly opening: Opening;
  /** Of a flap that lies under the other the part beside the cut cannot be seen: of the riding one from inside, of the other from outside. */
  readonly seenFrom: 'inside' | 'outside';
  /** Further height along the normal of a vertex, mm. */
  readonly height?: (vertex: number) => number;
  /** Which of the error's heights beside the cut count; both by default. */
  readonly shelf?: boolean;
  readonly lip?: boolean;
}

/** Moves every vertex of an opened sheet as the shell moved when it was closed wrongly. */
export function placeSheet(open: OpenSheet, { sections, skin, error, opening, seenFrom, height, shelf = true, lip = true }: Placing): PlacedSheet {
  const { sheet, byCut, flap } = open;
  const positions = sheet.positions.slice();
  const normals = sheet.normals.slice();
  const q = new Float64Array(3);
  const n = new Float64Array(3);
  const shift: Shift = { y: 0, off: 0, angle: 0 };
  const hidden = seenFrom === 'inside' ? error.riding : -error.riding;
  for (let v = 0; v < flap.length; v++) {
    const o = 3 * v;
    const extra = height ? height(v) : 0;
    const along = byCut[o];
    const side = flap[v] as 1 | -1;
    let reach = [0, 1, 2].map((k) => sheet.positions[o + k] - sheet.foot[o + k]);
    q.set(sheet.foot.subarray(o, o + 3));
    n.set(sheet.normals.subarray(o, o + 3));
    let up = extra;
    if (!Number.isNaN(along)) {
      let turn = byCut[o + 1];
      let across = Math.abs(byCut[o + 2]);
      const gap = error.gap(along);
      if (gap < 0 && side === hidden) {
        turn = slide(q, n, sections, skin, { along, turn, across, side }, -gap);
        const thick = Math.hypot(...reach);
        if (turn !== byCut[o + 1]) reach = [0, 1, 2].map((k) => thick * n[k]);
      }
      // Where the flaps lie over each other both are off their place as at the edge; from there on they come back.
      if (gap < 0) across = Math.max(0, Math.abs(turn) * sections.halfAt(along) + gap);
      opening.at(along, turn, side, shift);
      const [, , angle] = sections.spine.at(along);
      const [c, s] = [Math.cos(shift.angle), Math.sin(shift.angle)];
      // Turned in the section's plane, whose axes are Y and the direction away from the spine.
      const turned = (d: ArrayLike<number>): number[] => {
        const off = d[0] * Math.sin(angle) + d[2] * Math.cos(angle);
        const [y2, off2] = [c * d[1] - s * off, s * d[1] + c * off];
        return [d[0] + (off2 - off) * Math.sin(angle), y2, d[2] + (off2 - off) * Math.cos(angle)];
      };
      q[0] += shift.off * Math.sin(angle);
      q[1] += shift.y;
      q[2] += shift.off * Math.cos(angle);
      reach = turned(reach);
      n.set(turned(n));
      if (shelf) up += error.shelf(side, across, along);
      if (lip) up += error.lip(side, across, along);
    }
    for (let k = 0; k < 3; k++) positions[o + k] = q[k] + reach[k] + up * n[k];
    normals.set(n, o);
  }
  if (error.warp) warped(positions, sections, error.warp);
  return { positions, normals };
}

/**
 * Moves a point of the skin round its section as if `hidden` mm beside the cut were taken away, the stretch fading out
 * over the flap; the point and its normal are changed in place. Returns the new turn.
 */
function slide(q: Float64Array, n: Float64Array, sections: Sections, skin: NearSkin, at: { along: number; turn: number; across: number; side: 1 | -1 }, hidden: number): number {
  const half = sections.halfAt(at.along);
  const reach = Math.min(0.85 * half, Math.max(50, 4.5 * hidden));
  const by = hidden * (1 - smoothStep(0, reach, at.across));
  if (by <= 0) return at.turn;
  const turn = at.turn + (at.side * by) / half;
  const [from, to] = [sections.point(at.along, at.turn), sections.point(at.along, turn)];
  for (let k = 0; k < 3; k++) q[k] += to[k] - from[k];
  skin.exactly(q, n);
  return turn;
}

function warped(positions: Float64Array, sections: Sections, { squeeze, twistDeg }: NonNullable<CutError['warp']>): void {
  const by: BySpine = { along: 0, off: 0 };
  for (let i = 0; i < positions.length; i += 3) {
    const { along, off } = sections.spine.locate(positions[i], positions[i + 2], by);
    const s = squeeze(along);
    const a = (twistDeg(along) * Math.PI) / 180;
    const [y, w] = [positions[i + 1] * (1 - s), off * (1 + s)];
    positions.set(sections.spine.point(along, Math.cos(a) * y - Math.sin(a) * w, Math.sin(a) * y + Math.cos(a) * w), i);
  }
}

import type { EdgeSection } from './edge-sections.js';

export const CORNER = {
  /** Half the angle between the lines of sole and side, at most and at least, radians. */
  most: (34 * Math.PI) / 180,
  least: (12 * Math.PI) / 180,
  step: (2 * Math.PI) / 180,
  /** How far the bare corner may stand out from the foot, mm: where the foot is round, its lines are drawn together. */
  standsOut: 3.5,
  /** The same where the sole is flat across, and the steps in which the flat line gives way to the foot's own. */
  standsOutFlat: 7,
  giveWay: 0.25,
  /** Steepest line of the side above a sole that is flat across, radians. */
  side: (76 * Math.PI) / 180,
  /** Distance of the pivot from both lines, mm. */
  pivot: 10,
  /** A line touches wherever the section comes this near to it, mm. */
  touch: 0.03,
} as const;

/**
 * A straight line that touches a section from outside: out · sin(slope) − up · cos(slope) = far. Slope 0 is a level sole,
 * a right angle an upright side.
 */
export interface TangentLine {
  readonly slope: number;
  readonly far: number;
}

/** The corner in which the lines of sole and side meet. */
export interface Corner {
  readonly sole: TangentLine;
  readonly side: TangentLine;
  /** How far from the bare corner sole and side leave their lines, mm. */
  readonly soleRun: number;
  readonly sideRun: number;
}

const QUARTER = Math.PI / 4;

/** The line of a slope that touches a section, and the index of the point where it does. */
export function tangentLine({ out, up }: EdgeSection, slope: number): TangentLine & { readonly at: number } {
  const s = Math.sin(slope);
  const c = Math.cos(slope);
  let far = -Infinity;
  let at = 0;
  for (let i = 0; i < out.length; i++) {
    const reach = out[i] * s - up[i] * c;
    if (reach > far) {
      far = reach;
      at = i;
    }
  }
  return { slope, far, at };
}

/** out and up of the place where two lines meet. */
export function meeting(a: TangentLine, b: TangentLine): readonly [number, number] {
  const turn = Math.sin(b.slope - a.slope);
  return [(b.far * Math.cos(a.slope) - a.far * Math.cos(b.slope)) / turn, (b.far * Math.sin(a.slope) - a.far * Math.sin(b.slope)) / turn];
}

/**
 * The corner of a section: the two lines that touch it, as far apart as the foot's roundness allows.
 *
 * @param flat slope of a sole that is flat across, and its weight 0 to 1 against the foot's own; null where there is none
 * @returns null where the section is no edge: it bends the other way, or lines that meet in reach would stand out too far
 */
export function cornerOf(edge: EdgeSection, flat: { readonly slope: number; readonly weight: number } | null): Corner | null {
  const middle = tangentLine(edge, QUARTER).far;
  const standsOut = (sole: TangentLine, side: TangentLine): number => {
    const [out, up] = meeting(sole, side);
    return (out - up) * Math.SQRT1_2 - middle;
  };
  for (let half: number = CORNER.most; half >= CORNER.least - 1e-9; half -= CORNER.step) {
    const sole = tangentLine(edge, QUARTER - half);
    const side = tangentLine(edge, QUARTER + half);
    if (standsOut(sole, side) > CORNER.standsOut) continue;
    for (let weight = flat?.weight ?? 0; flat !== null && weight > 0; weight -= CORNER.giveWay) {
      const mix = (a: number, b: number): number => a + weight * (b - a);
      const level = tangentLine(edge, mix(QUARTER - half, flat.slope));
      const upright = tangentLine(edge, mix(QUARTER + half, CORNER.side));
      if (standsOut(level, upright) <= CORNER.standsOutFlat) return cornerBetween(edge, level, upright);
    }
    return cornerBetween(edge, sole, side);
  }
  return null;
}

function cornerBetween({ out, up }: EdgeSection, sole: TangentLine, side: TangentLine): Corner {
  const [x, z] = meeting(sole, side);
  const touches = ({ slope, far }: TangentLine, i: number): boolean => far - (out[i] * Math.sin(slope) - up[i] * Math.cos(slope)) < CORNER.touch;
  // From the corner along each line to the first place where the section touches it.
  let i = out.length - 1;
  let j = 0;
  while (i > 0 && !touches(sole, i)) i--;
  while (j + 1 < out.length && !touches(side, j)) j++;
  return {
    sole: { slope: sole.slope, far: sole.far },
    side: { slope: side.slope, far: side.far },
    soleRun: Math.max(0, (x - out[i]) * Math.cos(sole.slope) + (z - up[i]) * Math.sin(sole.slope)),
    sideRun: Math.max(0, (out[j] - x) * Math.cos(side.slope) + (up[j] - z) * Math.sin(side.slope)),
  };
}

/** The place inside the foot from which the edge is seen: as far from one line as from the other. */
export function pivotOf(sole: TangentLine, side: TangentLine): readonly [number, number] {
  return meeting({ slope: sole.slope, far: sole.far - CORNER.pivot }, { slope: side.slope, far: side.far - CORNER.pivot });
}

/** What the corner rounded with a radius shows in one direction from its pivot. */
export interface CornerRay {
  /** Distance from the pivot, mm; NaN where it is not met. */
  distance: number;
  /** Direction in which the surface faces there: between the slopes of sole and side on the fillet. */
  facing: number;
  /** How much of the corner's own shape holds there: 1 at the fillet, 0 where sole or side have left their lines. */
  share: number;
}

/** The corner passes into the foot from this share of the run from fillet to touch on, to this far beyond it, and over no less than this, mm. */
const PASS = { from: 0.4, beyond: 3, least: 6 } as const;

/** Writes where the ray from the pivot in a direction (as slopes: 0 down, a right angle outward) meets the rounded corner. */
export function cornerRay({ sole, side, soleRun, sideRun }: Corner, radius: number, direction: number, into: CornerRay): void {
  const middle = (sole.slope + side.slope) / 2;
  const half = (side.slope - sole.slope) / 2;
  const off = direction - middle;
  // Both along the bisector, from the pivot: the fillet's centre, and across it where it touches the lines.
  const centre = (CORNER.pivot - radius) / Math.cos(half);
  const touch = Math.atan2(radius * Math.sin(half), centre + radius * Math.cos(half));
  if (Math.abs(off) < touch) {
    const across = centre * Math.sin(off);
    into.distance = centre * Math.cos(off) + Math.sqrt(radius * radius - across * across);
    into.facing = middle + Math.asin((into.distance * Math.sin(off)) / radius);
    into.share = 1;
    return;
  }
  const line = off < 0 ? sole : side;
  const from = Math.abs(direction - line.slope) * Math.sign(off * (direction - line.slope));
  into.facing = line.slope;
  if (from > STEEPEST) {
    into.distance = NaN;
    return;
  }
  into.distance = CORNER.pivot / Math.cos(from);
  // Along the line, from the bare corner.
  const run = CORNER.pivot * (Math.tan(from) + Math.tan(half));
  const fillet = radius * Math.tan(half);
  const to = Math.max((off < 0 ? soleRun : sideRun) + PASS.beyond, fillet + PASS.least);
  const begin = Math.min(to - PASS.least, fillet + PASS.from * (to - fillet));
  const t = Math.max(0, Math.min(1, (to - run) / (to - begin)));
  into.share = t * t * t * (10 + t * (6 * t - 15));
}

/** Rays that meet a line at less than 25° are not followed. */
const STEEPEST = (65 * Math.PI) / 180;

/** Farthest from its pivot that a ray meets a corner, mm. */
export const RAY_MOST = CORNER.pivot / Math.cos(STEEPEST);

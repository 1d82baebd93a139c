import { bell, limbUnion, meltTogether, smoothMax, smoothStep, type Field, type Limb } from '../surface/implicit.js';
import type { ToeCover } from './toe-cover.js';
import { roundingAt } from './sole-rounding.js';
import type { FootParameters } from './foot-parameters.js';

/** The length that the layout below is drawn for, mm. */
const DRAWN_LENGTH = 270;

/** Where each toe's root, knuckle and tip lie on a right foot of 270 mm, with radii; x to the toes, y medial, z up. */
const TOES = [
  { root: [196, 30, 23], knuckle: [231, 28, 18.5], tip: [256, 25.5, 14.5], radii: [16, 13, 12.2] },
  { root: [198, 9, 21], knuckle: [234, 6, 18.5], tip: [255, 4.5, 10], radii: [11, 8.6, 7.8] },
  { root: [192, -8, 19.5], knuckle: [224, -11.5, 17.5], tip: [244, -12.5, 9.6], radii: [10.5, 8.3, 7.5] },
  { root: [184, -21, 18], knuckle: [211, -25.5, 16.5], tip: [230, -26.5, 9.2], radii: [10, 8, 7.2] },
  { root: [170, -34, 16], knuckle: [195, -38, 14.5], tip: [212, -38, 9], radii: [10, 7.8, 7.2] },
] as const;

function toeLimbs(p: FootParameters): Limb[] {
  const limbs: Limb[] = [];
  TOES.forEach((toe, i) => {
    const shape = p.toes[i];
    const root: [number, number, number] = [toe.root[0], toe.root[1], toe.root[2]];
    const along = (point: readonly number[], lift: number): [number, number, number] => [
      root[0] + (point[0] - root[0]) * shape.length,
      root[1] + (point[1] - root[1]) + shape.turn * (point[0] - root[0]),
      point[2] + lift,
    ];
    const knuckle = along(toe.knuckle, shape.hammer);
    const tip = along(toe.tip, 0);
    tip[0] -= shape.hammer * 0.5;
    const [r0, r1, r2] = toe.radii.map((r) => r * shape.girth);
    limbs.push({ from: root, to: knuckle, radii: [r0, r1] });
    limbs.push({ from: knuckle, to: tip, radii: [r1 * 0.98, r2], squash: i === 0 ? [1.12, 0.9] : [1, 0.96] });
  });
  return limbs;
}

function footLimbs(p: FootParameters): Limb[] {
  const bunion = p.bunion;
  const rise = p.instepRise;
  const wide = p.heelWidth;
  return [
    // heel: calcaneus with its fat pad
    { from: [29, -1, 27], to: [60, -2, 32], radii: [27 * wide, 22 * wide] },
    { from: [25, -1, 13], to: [44, -1, 12], radii: [19.5 * wide, 19.5 * wide], squash: [1.15, 1] },
    { from: [21, -1, 36], to: [24, -1, 58], radii: [16.5 * wide, 11] },
    // abductor of the great toe: the inner border between heel and first metatarsal
    { from: [40, 9, 26], to: [124, 24, 28], radii: [15.5, 14] },
    // talus, tarsus and the instep ridge
    { from: [56, 1, 56], to: [88, 5, 62 + rise], radii: [23, 17] },
    { from: [82, 6, 75 + rise], to: [150, 9.5, 46 + 0.7 * rise], radii: [19.5, 15.5] },
    { from: [97, 23, 38], to: [104, 24, 36], radii: [10.5 + p.navicular, 10] },
    // cuboid and the outer border, styloid of the fifth metatarsal
    { from: [66, -18, 26], to: [112, -24, 24], radii: [15, 14] },
    { from: [97, -33, 18], to: [104, -34, 17], radii: [7 + p.styloid, 7] },
    // metatarsals, first to fifth
    { from: [110, 22, 42 + 0.6 * rise], to: [196, 30 + 4 * bunion, 22.5], radii: [15.5, 14] },
    { from: [196, 33.5 + 5 * bunion, 20], to: [204, 32.5 + 5 * bunion, 20], radii: [13.5 + 1.5 * bunion, 12.5] },
    { from: [122, 8, 50 + 0.7 * rise], to: [196, 11, 24.5], radii: [15, 12.5] },
    { from: [118, -7, 43 + 0.6 * rise], to: [190, -7, 22.5], radii: [15, 12] },
    { from: [112, -20, 35 + 0.4 * rise], to: [180, -21, 20], radii: [14.5, 11.5] },
    { from: [102, -30, 23], to: [166, -37, 17.5], radii: [11.5, 11.5] },
    // fat pad under the ball and along the outer border
    { from: [186, 22, 10], to: [180, -24, 9], radii: [10, 9], squash: [1, 0.9] },
    { from: [60, -14, 12], to: [160, -28, 10], radii: [12, 10] },
  ];
}

function legLimbs(p: FootParameters, heightScale: number): Limb[] {
  const swell = p.ankleSwelling;
  const lean = p.legLean;
  const top = 330;
  const leg = (x: number, y: number, z: number): [number, number, number] => [x + lean * (z - 80), y, z];
  const inner = p.medialMalleolusHeight / heightScale;
  const outer = p.lateralMalleolusHeight / heightScale;
  return [
    // Achilles tendon; the calf swells far above it
    { from: [17.5, -2, 48], to: leg(13, 0, top), radii: [7, 10], squash: [1.1, 1] },
    { from: leg(50, -1, 175), to: leg(36, 0, top + 60), radii: [14, 58] },
    // core, tibial crest, fibular side
    { from: leg(52, 1, 60), to: leg(46, 2, top), radii: [26 + swell, 46 + 0.3 * swell] },
    { from: leg(73, 6, 84), to: leg(72, 7, top), radii: [9.5, 30] },
    // malleoli: the medial higher and further forward
    { from: [64, 26.5, inner], to: leg(60, 13, inner + 34), radii: [9.5 + 0.4 * swell, 5], squash: [0.9, 1] },
    { from: [50, -28, outer + 1], to: leg(50, -12, outer + 34), radii: [9 + 0.4 * swell, 4], squash: [0.85, 1] },
  ];
}

/** Height of the sole above the rest plane before any bend of the forefoot: arch, hollow behind the toe pads, heel seat. */
function soleHeight(p: FootParameters): (x: number, y: number) => number {
  return (x, y) => {
    const medial = smoothStep(-38, 34, y + 0.06 * (x - 110));
    const archAlong = x < 112 ? bell(x, 112, 30) : bell(x, 112, 26);
    const arch = p.archHeight * archAlong * medial + p.lateralArch * bell(x, 100, 24);
    const padEdge = 206 + 0.28 * y - 0.004 * (y - 10) * (y - 10);
    const hollow = p.toeHollow * bell(x, padEdge + 9, 6.5);
    const seat = p.soleRoundness * ((x - 34) * (x - 34) + y * y) * 0.002 * smoothStep(75, 20, x);
    const ball = p.soleRoundness * 0.0012 * y * y * smoothStep(130, 180, x);
    return arch + hollow + seat + ball;
  };
}

/**
 * Family A: a foot drawn by its bones and pads, melted together. Right foot, lengths of a 270 mm foot scaled to
 * the target length, heel near x = 0, rest plane near z = 0.
 */
export function footOfBones(p: FootParameters, cover?: ToeCover): Field {
  const foot = limbUnion(footLimbs(p), 6.5);
  const toes = limbUnion(toeLimbs(p), p.toeMerge);
  const sole = soleHeight(p);
  const scale = p.targets.length / DRAWN_LENGTH;
  const leg = limbUnion(legLimbs(p, scale * p.heightFit), 6.5);
  const sx = 1 / (scale * p.lengthFit);
  const sy = 1 / (scale * p.widthFit);
  const sz = 1 / (scale * p.heightFit);
  const slope = 1 / Math.max(sx, sy, sz);
  const bend = p.outflare;
  const reach = 60;
  return (x, y, z) => {
    const u = x * sx;
    // The axis curves sideways in front of the heel; the forefoot is hinged up in front of the ball.
    const v = y * sy - bend * (0.5 * (u - reach + Math.sqrt((u - reach) * (u - reach) + reach * reach)) - 0.7 * reach);
    const past = u > 185 ? (u - 185) / 85 : 0;
    const w = z * sz - p.toeSpring * past * past * past * (4 - past) / 3;
    let upper = meltTogether(meltTogether(foot(u, v, w), leg(u, v, w), 9), toes(u, v, w), 2);
    if (cover && u > 130) upper = meltTogether(upper, cover.bandage(u, v, w), cover.melt);
    return smoothMax(upper, sole(u, v) + (cover ? cover.soleRise(u, v) : 0) - w, roundingAt(p, u)) * slope;
  };
}

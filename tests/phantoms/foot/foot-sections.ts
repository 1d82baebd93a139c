import { bell, meltTogether, smoothMax, smoothStep, type Field } from '../surface/implicit.js';
import type { ToeCover } from './toe-cover.js';
import { roundingAt } from './sole-rounding.js';
import type { FootParameters, ToeShape } from './foot-parameters.js';
import { ovalRadius, splineSheet, through } from './spline-sheet.js';

/** The length that the stations below are drawn for, mm. */
const DRAWN_LENGTH = 270;

type Stations = readonly (readonly [number, number])[];

/** Level sections of heel and leg round the upright through x = 50: how far back, forward and to each side. */
const LEG: { readonly [side: string]: Stations } = {
  back: [[-10, 40], [0, 46], [15, 49.5], [30, 51], [45, 49], [60, 44], [75, 39.5], [90, 37], [110, 35.5], [140, 36], [180, 38], [230, 43], [340, 52]],
  front: [[-10, 40], [30, 42], [60, 46], [80, 48], [95, 46], [110, 41], [130, 38], [160, 37], [200, 38], [250, 42], [340, 50]],
  sides: [[-10, 28], [0, 31], [15, 34], [30, 34.5], [45, 32], [60, 30.5], [80, 30], [95, 30], [115, 29.5], [140, 30], [180, 33], [230, 38], [340, 50]],
};

/** Upright sections of the foot: top, and half-width to each side of the axis. */
const FOOT: { readonly [side: string]: Stations } = {
  top: [[10, 44], [40, 62], [70, 84], [90, 90], [105, 86], [125, 77], [145, 67], [165, 56], [185, 45], [200, 37], [215, 31], [240, 25]],
  medial: [[10, 24], [40, 29], [70, 31], [95, 35], [120, 38], [150, 41.5], [175, 46], [195, 50], [210, 48], [230, 42]],
  lateral: [[10, 24], [40, 29], [70, 32], [90, 37], [105, 41], [130, 43], [155, 47], [172, 49.5], [190, 46], [210, 40], [230, 34]],
};

/** Toes as tubes: root, tip, bow of the axis sideways, half-width at root, waist and tip pad, half-height likewise. */
const TUBES = [
  { root: [194, 31, 21], tip: [267, 24, 14], bow: 2, wide: [15, 12.4, 13.2], high: [16, 11.5, 11] },
  { root: [196, 10, 20], tip: [264, 5, 11], bow: 1, wide: [10.5, 8, 8.1], high: [13, 9, 8] },
  { root: [190, -8, 19], tip: [252, -11.5, 10.5], bow: 0.5, wide: [10, 7.7, 7.8], high: [12.5, 8.8, 7.6] },
  { root: [181, -22, 18], tip: [238, -27, 10], bow: -0.5, wide: [10, 7.6, 7.6], high: [12, 8.6, 7.3] },
  { root: [168, -35, 16], tip: [221, -40, 9.5], bow: -2, wide: [10.5, 7.8, 7.9], high: [12, 8.4, 7.4] },
] as const;

function legTube(p: FootParameters): Field {
  const [back, front, sides] = [through(LEG.back, 14), through(LEG.front, 14), through(LEG.sides, 14)];
  const swell = p.ankleSwelling;
  const sheet = splineSheet(-20, 340, 7.5, (z, angle) => {
    const heel = 1 + (p.heelWidth - 1) * smoothStep(80, 30, z);
    const ankle = 1 + 0.02 * swell * bell(z, 90, 30);
    const side = sides(z) * heel * ankle;
    const r = ovalRadius(angle, front(z), side, back(z) + 0.25 * swell * bell(z, 95, 25), side, 2.25);
    // Hollows beside the Achilles tendon; the shin is a little edged.
    const rear = Math.abs(Math.abs(angle > Math.PI ? angle - 2 * Math.PI : angle) - Math.PI);
    const hollow = (6.5 - 0.7 * swell) * bell(rear, 0.72, 0.26) * bell(z, 98, 27);
    const shin = 1.8 * bell(angle, 0.25, 0.22) * smoothStep(100, 130, z);
    return r - hollow + shin;
  });
  const lean = p.legLean;
  return (x, y, z) => {
    const u = x - 50 - lean * Math.max(0, z - 60) ** 2 / (Math.max(0, z - 60) + 40);
    let angle = Math.atan2(y, u);
    if (angle < 0) angle += 2 * Math.PI;
    // The bottom of the tube lies well below the sole, which cuts it.
    return (Math.sqrt(u * u + y * y) - sheet(z, angle)) * 0.95;
  };
}

function footTube(p: FootParameters): Field {
  const [top, medial, lateral] = [through(FOOT.top, 16), through(FOOT.medial, 16), through(FOOT.lateral, 16)];
  const axis = (x: number): number => 0.42 * top(x);
  const sheet = splineSheet(0, 250, 7.5, (x, angle) => {
    const rise = p.instepRise * bell(x, 115, 35);
    return ovalRadius(angle, medial(x) + 4 * p.bunion * bell(x, 200, 11), top(x) + rise - axis(x), lateral(x), axis(x) + 20, 2.35);
  });
  const height = splineSheet(0, 250, 7.5, (x) => axis(x));
  return (x, y, z) => {
    const middle = height(x, 0);
    // The instep's ridge lies to the medial side: sections lean over.
    const lean = 0.22 * bell(x, 130, 45);
    const up = z - middle;
    const side = y - lean * up;
    let angle = Math.atan2(up, side);
    if (angle < 0) angle += 2 * Math.PI;
    const tube = Math.sqrt(up * up + side * side) - sheet(x, angle);
    const front = x - 0.3 * y - 0.0016 * y * y - 208;
    return smoothMax(smoothMax(tube, 0.8 * front, 24), 24 - x, 20) * 0.9;
  };
}

function toeTube(tube: (typeof TUBES)[number], shape: ToeShape): Field {
  const dx = (tube.tip[0] - tube.root[0]) * shape.length;
  const dy = tube.tip[1] - tube.root[1] + shape.turn * dx;
  const length = Math.hypot(dx, dy);
  const [cx, cy] = [dx / length, dy / length];
  const half = (v: readonly number[]) => through([[0, v[0]], [0.45 * length, v[1]], [0.62 * length, 0.5 * (v[1] + v[2])], [0.86 * length, v[2]], [length, v[2]]], 0.3 * length);
  const [wide, high] = [half(tube.wide), half(tube.high)];
  const rows = splineSheet(-20, length + 20, 4, (s, angle) => (angle < 1 ? wide(s) : high(s)) * shape.girth);
  const level = splineSheet(-20, length + 20, 4, (s) => tube.root[2] + (tube.tip[2] - tube.root[2]) * smoothStep(0, length, s) + (2 + shape.hammer) * bell(s, 0.5 * length, 0.17 * length));
  const close = 0.98 * tube.wide[2] * shape.girth;
  return (x, y, z) => {
    const [ex, ey] = [x - tube.root[0], y - tube.root[1]];
    const s = ex * cx + ey * cy;
    const across = ey * cx - ex * cy - tube.bow * bell(s, 0.5 * length, 0.3 * length);
    const a = rows(s, 0);
    const b = rows(s, Math.PI);
    const end = ramp(s - (length - close)) + ramp(4 - s);
    const q = Math.sqrt((across / a) ** 2 + ((z - level(s, 0)) / b) ** 2 + (end / close) ** 2 + 1e-6);
    return (q - 1) * Math.min(a, b);
  };
}

/** 0 below −3, v above 3, twice differentiable. */
const ramp = (v: number): number => (v <= -3 ? 0 : v >= 3 ? v : ((v + 3) ** 3 * (9 - v)) / 432);

/** Outward swellings and hollows: place, size along each axis and height, mm. */
function details(p: FootParameters, heightScale: number): { at: number[]; size: number[]; height: number }[] {
  const inner = p.medialMalleolusHeight / heightScale;
  const outer = p.lateralMalleolusHeight / heightScale;
  const swell = p.ankleSwelling;
  return [
    { at: [62, 34, inner], size: [10, 12, 11], height: 6.5 - 0.4 * swell },
    { at: [49, -34, outer], size: [8.5, 12, 12], height: 6.8 - 0.4 * swell },
    { at: [101, 34, 41], size: [10, 12, 9], height: 1.2 + 0.8 * p.navicular },
    { at: [103, -42, 17], size: [9, 12, 9], height: 0.8 + 0.8 * p.styloid },
    { at: [200, 50, 20], size: [11, 14, 12], height: 1 + 3 * p.bunion },
    { at: [168, -50, 16], size: [10, 14, 10], height: 1.2 },
    { at: [84, -34, 52], size: [13, 13, 11], height: -3.5 },
    { at: [76, 34, 62], size: [12, 13, 12], height: -2.2 },
    { at: [45, 30, 62], size: [9, 13, 12], height: -1.5 },
  ];
}

function soleOf(p: FootParameters): (x: number, y: number) => number {
  return (x, y) => {
    const inner = 0.5 * (1 + Math.tanh((y + 4 + 0.05 * (x - 120)) / 17));
    const along = smoothStep(58, 112, x) * smoothStep(176, 122, x);
    const edge = 205 + 0.26 * y - 0.0035 * y * y;
    const hollow = p.toeHollow * bell(x, edge + 9, 7);
    const round = p.soleRoundness * 0.0018 * (((x - 36) ** 2 + y * y) * smoothStep(80, 25, x) + 0.6 * y * y * smoothStep(125, 180, x));
    return p.archHeight * along * inner + p.lateralArch * along + hollow + round;
  };
}

/** Family B: a foot of level and upright spline sections, toes as tubes, swellings as added fields. Right foot, as in family A. */
export function footOfSections(p: FootParameters, cover?: ToeCover): Field {
  const scale = p.targets.length / DRAWN_LENGTH;
  const heightScale = scale * p.heightFit;
  const [leg, foot, sole] = [legTube(p), footTube(p), soleOf(p)];
  const toes = TUBES.map((tube, i) => toeTube(tube, p.toes[i]));
  const swellings = details(p, heightScale);
  const [sx, sy, sz] = [1 / (scale * p.lengthFit), 1 / (scale * p.widthFit), 1 / heightScale];
  const slope = 1 / Math.max(sx, sy, sz);
  return (x, y, z) => {
    const u = x * sx;
    // Curved axis: an arc of a circle in front of the heel, and a hinge at the ball.
    const v = y * sy - p.outflare * 0.0035 * u * u + p.outflare * 20;
    const past = u > 185 ? (u - 185) / 85 : 0;
    const w = z * sz - p.toeSpring * past * past * past * (4 - past) / 3;
    let upper = meltTogether(foot(u, v, w), leg(u, v, w), 8);
    let toe = Infinity;
    if (u > 110) {
      for (const t of toes) {
        const d = t(u, v, w);
        toe = toe === Infinity ? d : meltTogether(toe, d, 1.4 * p.toeMerge);
      }
      upper = meltTogether(upper, toe, 2.4);
    }
    for (const s of swellings) {
      const e = ((u - s.at[0]) / s.size[0]) ** 2 + ((v - s.at[1]) / s.size[1]) ** 2 + ((w - s.at[2]) / s.size[2]) ** 2;
      if (e < 40) upper -= s.height * Math.exp(-0.5 * e);
    }
    if (cover && u > 130) upper = meltTogether(upper, cover.bandage(u, v, w), cover.melt);
    return smoothMax(upper, sole(u, v) + (cover ? cover.soleRise(u, v) : 0) - w, roundingAt(p, u)) * slope;
  };
}

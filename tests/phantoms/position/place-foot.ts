import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { Point } from '@cast-to-last/foot/landmarks';
import { projectWithin } from '../surface/densify.js';
import { meltTogether, smoothMax, smoothMin, smoothStep, type Field } from '../surface/implicit.js';
import { meshField } from '../surface/mesh-field.js';
import type { Random } from '../random.js';
import { cut } from '../reference/cut.js';
import { frameBasis, referenceFrame, seenFrom } from '../reference/frame.js';
import { foldOf } from './bandage-fold.js';
import { soleShape } from './distort-sole.js';
import type { Plants, Position } from './position.js';
import { unturn, type SpaceMap } from './warps.js';

/** A foot as it was drawn, flat, in its own frame. */
export interface FlatFoot {
  readonly field: Field;
  /** The same without what the family puts over the toes. */
  readonly bare: Field;
  readonly length: number;
  readonly medialBall: Point;
  readonly lateralBall: Point;
  readonly ballWidth: number;
  readonly toeTip: Point;
  /** Middle between the borders at 0.86 FL. */
  readonly toeMiddle: number;
}

/** Foot on its bed. */
export interface PlacedFoot {
  readonly field: Field;
  /** Without bandage beyond the toes. */
  readonly bare: Field;
  /** From the placed foot back to the flat one, in the flat one's frame. */
  readonly toFlat: SpaceMap;
  /** Two points of the hinge between the plates. */
  readonly hinge: readonly [Point, Point];
}

/** The drawn foot in its frame; the frame is found on a mesh of `cell` mm. */
export function flatFoot(drawn: Field, bareDrawn: Field, room: Float64Array, cell: number): FlatFoot {
  const mesh = meshField(drawn, room, cell);
  projectWithin(drawn, mesh.positions, 2, 20);
  const toFrame = referenceFrame(mesh, 'right', drawn);
  const here = transformMesh(toFrame, mesh);
  const field = seenFrom(drawn, toFrame);
  const { footLength, medialBall, lateralBall } = frameBasis(here, 'right', field);
  const p = here.positions;
  let tip = 0;
  for (let i = 0; i < p.length; i += 3) if (p[i] > p[tip]) tip = i;
  const { segments } = cut(here, [1, 0, 0], 0.86 * footLength);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 1; i < segments.length; i += 3) {
    low = Math.min(low, segments[i]);
    high = Math.max(high, segments[i]);
  }
  return {
    field,
    bare: seenFrom(bareDrawn, toFrame),
    length: footLength,
    medialBall,
    lateralBall,
    ballWidth: Math.hypot(medialBall[0] - lateralBall[0], medialBall[1] - lateralBall[1]),
    toeTip: [p[tip], p[tip + 1], p[tip + 2]],
    toeMiddle: (low + high) / 2,
  };
}

const DEGREE = Math.PI / 180;
/** Width over which the sole's flats pass into what rises round them, mm. */
const FLAT_EDGE = 3;
/** Height of the hinge in the foot over its sole: between the skin that stays and the joints that turn, mm. */
const HINGE_HEIGHT = 9;
const HINGE_HALF_WIDTH = 19;
/** Plates bent by less than this have no hinge that the sole shows; it is rounded over so much each way of it there, degrees and mm. */
const HINGELESS_DEG = 4;
const HINGELESS_ROUNDING = 25;
/** Keeps the slope of the warped field below what the mesher reckons with. */
const SLOPE = 0.62;

/** The flat foot put on its bed: warped by `plants`, pressed on the plates, with what the position says besides. */
export function placeFoot(foot: FlatFoot, position: Position, plants: Plants, random: Random): PlacedFoot {
  const press = position.pressMm ?? 3.2;
  const bend = plants.bendDeg * DEGREE;
  const drawnCrease = 1.5 + 4 * random.fork('crease').next();
  // Where the plates hardly part a crease of some millimetres' height would reach over both, and neither be a plane.
  const crease = Math.abs(plants.bendDeg) < HINGELESS_DEG ? Math.min(drawnCrease, HINGELESS_ROUNDING * Math.abs(Math.tan(bend))) : drawnCrease;

  const yaw = (position.yawDeg ?? 0) * DEGREE;
  const [cosYaw, sinYaw] = [Math.cos(yaw), Math.sin(yaw)];
  const hingeY = foot.medialBall[1];
  /** How far ahead of the hinge. */
  const aheadOfHinge = (x: number, y: number): number => (x - plants.hingeX) * cosYaw + (y - hingeY) * sinYaw;
  const [cosBend, sinBend] = [Math.cos(bend), Math.sin(bend)];
  const bedHeight = (x: number, y: number): number => press + Math.max(0, aheadOfHinge(x, y)) * Math.tan(bend);
  const bed: Field = (x, y, z) => {
    const [rear, front] = [press - z, aheadOfHinge(x, y) * sinBend - (z - press) * cosBend];
    // Plates bent upwards are a trough, the sole stands on the higher one; bent downwards they are a roof.
    return bend < 0 ? smoothMin(rear, front, crease) : smoothMax(rear, front, crease);
  };

  const unlift = liftBack(foot, position, plants, bedHeight, random);
  const unbend = unturn({
    angle: bend, a: 0, b: 2, pivot: [-HINGE_HEIGHT * Math.tan(bend / 2), press + HINGE_HEIGHT], beyond: [1, 0], blend: [-HINGE_HALF_WIDTH, HINGE_HALF_WIDTH],
  });
  const unlean = shankBack(foot, plants);
  const untoes = toesBack(foot, plants, press);
  const toFlat: SpaceMap = (p) => {
    if (bend !== 0) {
      const [u, v] = [aheadOfHinge(p[0], p[1]), -(p[0] - plants.hingeX) * sinYaw + (p[1] - hingeY) * cosYaw];
      p[0] = u;
      p[1] = v;
      unbend(p);
      const x = p[0];
      p[0] = plants.hingeX + x * cosYaw - p[1] * sinYaw;
      p[1] = hingeY + x * sinYaw + p[1] * cosYaw;
    }
    unlean(p);
  };

  const fold = position.fold && foldOf(position.fold, { tip: [foot.toeTip[0], foot.toeTip[1]], middleY: foot.toeMiddle, ballWidth: foot.ballWidth, floor: press }, random.fork('fold'));
  const p = new Float64Array(3);
  const onBed = (flat: Field, folded: Field | undefined): Field => (x, y, z) => {
    p[0] = x;
    p[1] = y;
    p[2] = z;
    unlift(p);
    const under = bed(p[0], p[1], p[2]);
    toFlat(p);
    const flap = folded ? folded(p[0], p[1], p[2]) : Infinity;
    untoes(p);
    const flesh = flat(p[0], p[1], p[2]);
    return smoothMax(folded ? meltTogether(flesh, flap, 2.5) : flesh, under, FLAT_EDGE) * SLOPE;
  };
  return {
    field: onBed(foot.field, fold),
    bare: onBed(foot.bare, undefined),
    hinge: [[plants.hingeX, hingeY, press], [plants.hingeX - 50 * sinYaw, hingeY + 50 * cosYaw, press]],
    toFlat: (q) => {
      unlift(q);
      toFlat(q);
    },
  };
}

/** Takes back what was lifted off the plates: a sole that is not flat, a heel that is tilted, a forefoot that is rolled. All of it moves points along z. */
function liftBack(foot: FlatFoot, { sole }: Position, plants: Plants, bedHeight: (x: number, y: number) => number, random: Random): SpaceMap {
  const fl = foot.length;
  const shape = sole ? soleShape(sole.kind, fl, random.fork('sole')) : null;
  const heelSlope = Math.tan(plants.heelDeg * DEGREE);
  const rollSlope = Math.tan(plants.twistDeg * DEGREE);
  // It rolls about the edge that stays down.
  const rollEdge = (plants.twistDeg > 0 ? -0.13 : 0.13) * fl;
  const heelFrom = 0.26 * fl;
  // How high over the bed the lift goes, mm: a tall one must take longer to die out, or it would fold the space over.
  const fade = sole?.kind === 'uneven' ? [5, 40] : [18, 92];
  return (p) => {
    let [low, high] = [0, 0];
    if (sole && shape) low += sole.heightMm * shape(p[0], p[1]);
    if (heelSlope !== 0) {
      // Straight over the seat, rounded off over ± 8 mm where it begins.
      const behind = heelFrom - p[0];
      low += heelSlope * (behind > 8 ? behind : behind < -8 ? 0 : ((behind + 8) * (behind + 8)) / 32);
    }
    if (rollSlope !== 0) high = rollSlope * (p[1] - rollEdge) * smoothStep(0.36 * fl, 0.6 * fl, p[0]);
    if (low !== 0) low *= 1 - smoothStep(fade[0], fade[1], p[2] - high - bedHeight(p[0], p[1]));
    p[2] -= low + high;
  };
}

/** Takes back how the shank was turned on the foot: about the ankle joint, beyond a slope that runs from under the heel cord to above the instep. */
function shankBack(foot: FlatFoot, plants: Plants): SpaceMap {
  const fl = foot.length;
  const slope = 0.55;
  const norm = Math.hypot(1, slope);
  const blend: [number, number] = [-0.1 * fl, 0.12 * fl];
  const pivot: [number, number] = [0.2 * fl, 0.24 * fl];
  // Forward lean turns z towards x.
  const lean = unturn({ angle: plants.leanDeg * DEGREE, a: 2, b: 0, pivot: [pivot[1], pivot[0]], beyond: [1 / norm, -slope / norm], blend });
  const roll = plants.rearViewDeg * DEGREE;
  return (p) => {
    if (plants.leanDeg !== 0) lean(p);
    if (roll === 0) return;
    const over = (p[2] - pivot[1] - slope * (p[0] - pivot[0])) / norm;
    const share = smoothStep(blend[0], blend[1], over);
    if (share === 0) return;
    const [c, s] = [Math.cos(share * roll), Math.sin(share * roll)];
    const [y, z] = [p[1], p[2] - 0.17 * fl];
    p[1] = y * c - z * s;
    p[2] = 0.17 * fl + y * s + z * c;
  };
}

/** Takes back what was done to the toes: squeezed together, and let down on the bed, for a foot is drawn with its toes in the air. */
function toesBack(foot: FlatFoot, plants: Plants, press: number): SpaceMap {
  const fl = foot.length;
  const { medialBall: m, lateralBall: l } = foot;
  const drop = 0.0096 * fl + 0.25 * press;
  const toe = (p: Float64Array): number => p[0] - (l[0] + ((p[1] - l[1]) / (m[1] - l[1])) * (m[0] - l[0]));
  return (p) => {
    const share = 1 - (1 - plants.toeBoxShare) * smoothStep(0.68 * fl, 0.86 * fl, p[0]);
    if (share !== 1) p[1] = foot.toeMiddle + (p[1] - foot.toeMiddle) / share;
    p[2] += drop * smoothStep(0.045 * fl, 0.13 * fl, toe(p));
  };
}

import type { Random } from '../random.js';

export interface ToeShape {
  /** Share of the drawn length. */
  readonly length: number;
  /** Share of the drawn thickness. */
  readonly girth: number;
  /** Sideways per mm forwards, medial positive. */
  readonly turn: number;
  /** How far the knuckle stands up beyond a straight toe, mm. */
  readonly hammer: number;
}

/** What makes one foot differ from another; lengths in mm of a foot drawn 270 mm long unless said otherwise. */
export interface FootParameters {
  /** What the finished foot shall measure, mm. */
  readonly targets: { readonly length: number; readonly breadth: number; readonly ballGirth: number; readonly heelBreadth: number };
  /** Corrections found by fitting the drawing to the targets; 1 as drawn. */
  readonly lengthFit: number;
  readonly widthFit: number;
  readonly heightFit: number;
  readonly heelWidth: number;
  /** How strongly the axis of the foot is curved; 1/m. */
  readonly outflare: number;
  readonly archHeight: number;
  readonly lateralArch: number;
  readonly toeHollow: number;
  /** 0 = sole flattened, 1 = round heel seat and ball. */
  readonly soleRoundness: number;
  /** Width over which the sole passes into the sides: 2.1 times the least radius there. */
  readonly soleRounding: number;
  readonly toeSpring: number;
  /** How widely neighbouring toes melt together. */
  readonly toeMerge: number;
  /** First to fifth. */
  readonly toes: readonly ToeShape[];
  /** 0 none to 1 strong. */
  readonly bunion: number;
  readonly instepRise: number;
  readonly ankleSwelling: number;
  /** Forward lean of the leg, mm per mm. */
  readonly legLean: number;
  readonly navicular: number;
  readonly styloid: number;
  /** Over the rest plane, mm of the finished foot. */
  readonly lateralMalleolusHeight: number;
  readonly medialMalleolusHeight: number;
}

export const ODDITIES = ['bunion', 'flat-arch', 'high-arch', 'long-second-toe', 'wide', 'narrow', 'swollen-ankle', 'short-toes', 'hammer-toe'] as const;
export type Oddity = (typeof ODDITIES)[number];

/**
 * Draws a foot. Sizes follow ANSUR II (2012, NATICK/TR-15/007, computed from the public records): foot length, breadth / FL,
 * ball girth = 92.15 + 0.5895·F (residual SD 10.4) for men and 86.94 + 0.5732·F (9.4) for women, heel breadth / FL, height of
 * the lateral malleolus. The girth's residual goes along with that of the breadth (girth / breadth has an SD of 0.065).
 * The medial malleolus stands about 10 mm above the lateral one (common practice, no source). Everything else: as drawn by hand.
 */
export function drawFoot(random: Random, oddities: readonly Oddity[] = []): FootParameters {
  const has = (oddity: Oddity): boolean => oddities.includes(oddity);
  const man = random.chance(0.5);
  const length = man ? random.normalWithin(271.2, 13.1, 2.3) : random.normalWithin(246.3, 12.4, 2.3);
  const spread = has('wide') ? random.between(1.6, 2.6) : has('narrow') ? random.between(-2.6, -1.6) : random.normalWithin(0, 1, 2);
  const breadth = length * ((man ? 0.376 : 0.377) + (man ? 0.017 : 0.018) * spread);
  const ballGirth = breadth * ((man ? 2.475 : 2.461) + random.normalWithin(0, 0.045, 2));
  const heelBreadth = length * ((man ? 0.268 : 0.273) + 0.018 * (0.5 * spread + random.normalWithin(0, 0.75, 2)));
  const lateral = man ? random.normalWithin(72.9, 5.7, 2) : random.normalWithin(62.8, 5.1, 2);
  const short = has('short-toes') ? 0.82 : 1;
  const bunion = has('bunion') ? random.between(0.6, 1.2) : 0;
  const toes = [0, 1, 2, 3, 4].map((i): ToeShape => {
    const long = i === 1 ? (has('long-second-toe') ? random.between(1.2, 1.32) : random.between(0.94, 1.12)) : 1;
    return {
      length: short * long * random.between(0.95, 1.05),
      girth: random.between(0.93, 1.08),
      turn: (i === 0 ? -0.28 * bunion : 0) + random.normalWithin(0, 0.025, 2),
      hammer: has('hammer-toe') && i === 1 ? random.between(3, 6) : random.between(0, 1.5),
    };
  });
  return {
    targets: { length, breadth, ballGirth, heelBreadth },
    lengthFit: 1,
    widthFit: 1,
    heightFit: 1,
    heelWidth: 1,
    outflare: random.normalWithin(0.06, 0.09, 2),
    archHeight: has('flat-arch') ? random.between(2, 6) : has('high-arch') ? random.between(27, 34) : random.between(11, 24),
    lateralArch: random.between(0, 3),
    toeHollow: random.between(2, 5),
    soleRoundness: random.chance(0.4) ? 0 : random.between(0.1, 0.8),
    soleRounding: random.between(13, 30),
    toeSpring: random.chance(0.5) ? random.between(0, 4) : random.between(4, 20),
    toeMerge: random.between(1.6, 3.2),
    toes,
    bunion,
    instepRise: random.normalWithin(0, 3, 2),
    ankleSwelling: has('swollen-ankle') ? random.between(4, 8) : random.between(-1, 1.5),
    legLean: random.normalWithin(0.03, 0.04, 2),
    navicular: random.between(0, 2.5),
    styloid: random.between(0, 2),
    lateralMalleolusHeight: lateral,
    medialMalleolusHeight: lateral + random.normalWithin(10, 2, 2),
  };
}

/**
 * The other foot of the same person: a length that differs by 2.5 mm SD and girths and heights by about 1 % (up to 19 % of
 * 2890 people differ by over 4 mm in length: SATRA 2018, second-hand), toes and arch a little different.
 */
export function otherFoot(p: FootParameters, random: Random): FootParameters {
  const { length, breadth, ballGirth, heelBreadth } = p.targets;
  return {
    ...p,
    targets: {
      length: length + random.normalWithin(0, 2.5, 2),
      breadth: breadth * random.normalWithin(1, 0.01, 2),
      ballGirth: ballGirth * random.normalWithin(1, 0.008, 2),
      heelBreadth: heelBreadth * random.normalWithin(1, 0.01, 2),
    },
    archHeight: p.archHeight * random.normalWithin(1, 0.08, 2),
    toes: p.toes.map((t) => ({ ...t, length: t.length * random.normalWithin(1, 0.015, 2), turn: t.turn + random.normalWithin(0, 0.012, 2) })),
    lateralMalleolusHeight: p.lateralMalleolusHeight + random.normalWithin(0, 0.8, 2),
    medialMalleolusHeight: p.medialMalleolusHeight + random.normalWithin(0, 0.8, 2),
  };
}

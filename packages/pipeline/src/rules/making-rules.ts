import { z } from 'zod';
import { range } from '../number-range.js';

/** How the finished last is printed and milled: part of the rule set. What has no source is common practice of print shops, without one. */

const whole = (least: number, most: number) => range(least, most, '').refine(Number.isInteger, 'must be a whole number');
const edge = range(40, 2000, 'mm');

/** How the last comes apart in the shoe. */
const split = z.strictObject({
  /** In one piece; by one plane into heel part and fore part; or with a wedge between them that is drawn first. */
  by: z.enum(['none', 'plane', 'wedge']).default('none'),
  /** Where the cut, or the middle of the wedge, meets the level of the sole, as a share of the last's length from the heel, 0.2 to 0.75. */
  at: range(0.2, 0.75, '').default(0.45),
  /** How far the cut leans, its top to the toes, degrees, −30 to 45: the way by which the heel part, or the wedge, is drawn. */
  leanDeg: range(-30, 45, 'degrees').default(15),
  /** Angle between the sides of the wedge, degrees, 4 to 60. */
  wedgeAngleDeg: range(4, 60, 'degrees').default(16),
  /** Width of the wedge at the sole, mm, 4 to 60. */
  wedgeWidthMm: range(4, 60, 'mm').default(14),
});

/** Pins and their sockets between pieces. Between parts that come out of the shoe they lie along the way by which these are drawn. */
const pins = z.strictObject({
  diameterMm: range(3, 20, 'mm').default(8),
  /** How far a pin stands out, where a piece was split to fit the bed, mm, 4 to 60. */
  lengthMm: range(4, 60, 'mm').default(12),
  /** Room between pin and socket all round, mm, 0 to 1. */
  clearanceMm: range(0, 1, 'mm').default(0.2),
});

const print = z.strictObject({
  body: z.enum(['solid', 'hollow']).default('solid'),
  /** Least wall of a hollow piece, mm, 1.5 to 20. */
  wallMm: range(1.5, 20, 'mm').default(4),
  /** Holes by which each hollow runs empty; where pieces meet they are in the cut, else in the top. */
  drain: z.strictObject({ count: whole(1, 4).default(2), diameterMm: range(1.5, 20, 'mm').default(5) }).prefault({}),
  split: split.prefault({}),
  pins: pins.prefault({}),
  /** Room of the printer, mm: width, depth, height. A piece that does not fit is split further. */
  bedMm: z.tuple([edge, edge, edge]).default([300, 300, 300]),
  /** Room between pieces, and to the edge of the bed, mm, 0 to 50. */
  gapMm: range(0, 50, 'mm').default(5),
  /** A face hangs over where it leans out from the vertical by more than this, degrees, 10 to 80. */
  overhangDeg: range(10, 80, 'degrees').default(45),
  /** Places thinner than this are reported, mm, 0.3 to 20. */
  thinMm: range(0.3, 20, 'mm').default(1.5),
});

const milling = z.strictObject({
  /** What lies along the blank: the last's length, its height, or the one of both that needs the smaller blank. */
  along: z.enum(['length', 'height', 'least']).default('length'),
  /** Stock round the last on every side, mm, 0 to 50. */
  stockMm: range(0, 50, 'mm').default(5),
  /** What the machine holds beyond the stock, at the end where the blank begins (the heel, or the sole) and at the other, mm, 0 to 200. */
  holdStartMm: range(0, 200, 'mm').default(25),
  holdEndMm: range(0, 200, 'mm').default(25),
  /** Edges of the blank are rounded up to multiples of this, mm, 1 to 50. */
  roundMm: range(1, 50, 'mm').default(5),
});

export const makingRules = z.strictObject({ print: print.prefault({}), milling: milling.prefault({}) });

export type MakingRules = z.output<typeof makingRules>;
export type PrintRules = MakingRules['print'];
export type SplitRules = PrintRules['split'];
export type PinRules = PrintRules['pins'];
export type MillingRules = MakingRules['milling'];

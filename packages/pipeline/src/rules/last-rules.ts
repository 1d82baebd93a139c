import { z } from 'zod';
import { range } from '../number-range.js';

/** What is made of a cleaned cast between the cast and the last: part of the rule set. Every allowance is 0 or off by default. */

/** A change of girth: `{ "mm": 4 }` or `{ "percent": -2 }`. */
const ease = z.union([z.strictObject({ mm: range(-15, 25, 'mm') }), z.strictObject({ percent: range(-6, 10, '%') })], {
  error: 'must be {"mm": -15 to 25} or {"percent": -6 to 10}',
});
const NO_EASE = { mm: 0 } as const;

/** A round hole drilled into the flat top. */
const hole = z.strictObject({ diameterMm: range(1, 60, 'mm'), depthMm: range(1, 120, 'mm') });

/** A pin hole, and where it stands on the flat top: shares of the top's extent, from its back to its front and from its −y to its +y side. */
const pinHole = z.strictObject({ diameterMm: range(1, 30, 'mm'), depthMm: range(1, 120, 'mm'), along: range(0, 1, ''), across: range(0, 1, '').default(0.5) });

const toeBox = z.strictObject({
  /** Bridge the webs and level the toes to a smooth box. */
  level: z.boolean().default(false),
  /** Height of the toe box at the toe roots' front, mm, 15 to 60; null leaves it as the toes have it. Needs `level`. */
  heightMm: range(15, 60, 'mm').nullable().default(null),
}).refine((box) => box.level || box.heightMm === null, { path: ['heightMm'], message: 'needs last.toeBox.level' });

const sole = z.strictObject({
  /** Leave the sole as it was cast, free it of small unevenness, or make tread and heel seat flat across. */
  shape: z.enum(['as-cast', 'fair', 'flat']).default('as-cast'),
  /** Radius of the feather line, the edge between sole and upper, mm, 0.5 to 10; null leaves it as it was cast. */
  featherRadiusMm: range(0.5, 10, 'mm').nullable().default(null),
});

/** The stance that the shoe is made for, where it is not that of the cast. Heights over the floor, mm. */
const stance = z.strictObject({
  /** Height of the heel seat; null: that of the cast. */
  heelHeightMm: range(0, 120, 'mm').nullable().default(null),
  /** Height of the toe end of the sole over the floor on which the ball stands; null: that of the cast. */
  toeSpringMm: range(0, 60, 'mm').nullable().default(null),
});

const top = z.strictObject({
  /** Cut along the shoe's top line instead of at a height: its heights over the rest plane at the back of the heel and at the instep's front. */
  line: z.strictObject({ backMm: range(30, 300, 'mm'), frontMm: range(30, 300, 'mm') }).nullable().default(null),
  /** How far the cone is carried up beyond the cut before it is closed flat, mm. */
  coneMm: range(0, 150, 'mm').default(0),
  /** The thimble hole in the middle of the flat top. */
  thimble: hole.nullable().default(null),
  pins: z.array(pinHole).max(6).default([]),
  /** Order number and side on the top. */
  label: z.enum(['none', 'engraved', 'raised']).default('none'),
  /** Depth or height of the label's strokes, mm. */
  labelDepthMm: range(0.2, 3, 'mm').default(0.6),
  /** Engrave the lines of heel and ball stations, and the midline, by which left and right are set up. */
  stationMarks: z.boolean().default(false),
});

export const lastRules = z
  .strictObject({
    /** Setting expansion of the casts' plaster that is taken out of every length, %: 0.2 to 0.3 for common plaster (second-hand). */
    plasterExpansionPercent: range(0, 1, '%').default(0),
    stance: stance.prefault({}),
    /** Length added ahead of the longest toe, mm, 0 to 30. */
    toeAllowanceMm: range(0, 30, 'mm').default(0),
    toeBox: toeBox.prefault({}),
    sole: sole.prefault({}),
    /** Changes of girth, each against the foot's own; 0 keeps that. */
    ease: z.strictObject({ ball: ease.default(NO_EASE), waist: ease.default(NO_EASE), instep: ease.default(NO_EASE) }).prefault({}),
    /** Height above the rest plane at which the last is cut flat, mm, 40 to 300; null caps the cast's own top. */
    topHeightMm: range(40, 300, 'mm').nullable().default(null),
    top: top.prefault({}),
  })
  .refine((last) => last.topHeightMm === null || last.top.line === null, { path: ['top', 'line'], message: 'cannot stand beside last.topHeightMm: name one of both' });

export type LastRules = z.output<typeof lastRules>;
export type EaseRule = LastRules['ease']['ball'];
export type SoleRules = LastRules['sole'];
export type StanceRules = LastRules['stance'];
export type TopRules = LastRules['top'];

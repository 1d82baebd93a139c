import { z } from 'zod';
import { range } from '../number-range.js';

/** The limits of the cast check: part of the rule set. Every number is common practice without a source unless it says otherwise. */

/** A deviation beyond `care` needs care, one beyond `recast` a new cast. */
const band = (care: number, recast: number, most: number, unit: string) =>
  z
    .strictObject({ care: range(0, most, unit).default(care), recast: range(0, most, unit).default(recast) })
    .refine((b) => b.recast >= b.care, { path: ['recast'], message: 'must not be less than care' })
    .prefault({});

/** How the leg shall stand for a kind of footwear. */
const stance = (forwardLean: number) =>
  z.strictObject({
    /** Forward lean of the shank against the floor's vertical that is wanted, degrees, top to the toes positive. */
    forwardLeanDeg: range(-20, 30, 'degrees').default(forwardLean),
    forwardLean: band(5, 9, 45, 'degrees'),
    /** Lean of the Achilles line in the rear view that is wanted, degrees, top towards the inner side positive. */
    rearViewDeg: range(-20, 20, 'degrees').default(0),
    rearView: band(4, 7, 45, 'degrees'),
  });

export const checkRules = z.strictObject({
  /** How far the cast shall reach above the inside ankle bone, mm. */
  aboveAnkleMm: range(0, 150, 'mm').default(25),
  /** By the order's discipline; a workshop may add its own. `other` serves every name that is not listed. */
  disciplines: z
    .object({ 'cycling-type': stance(3).prefault({}), 'skating-type': stance(8).prefault({}), other: stance(3).prefault({}) })
    .catchall(stance(3))
    .refine((all) => Object.keys(all).every((name) => name.trim() === name && name.length >= 1 && name.length <= 60), 'a name must have 1 to 60 characters, none of them a space at its ends')
    .prefault({}),
  /** Angle between the two sole planes against that of the footbed, degrees. */
  soleBend: band(2.5, 5, 45, 'degrees'),
  /** Heel seat lifted or tilted off the rear plate, degrees. */
  heelOnPlate: band(3.5, 5, 45, 'degrees'),
  /** The crease of the sole against the inside of the ball, mm along the foot. */
  ballOnHinge: band(8, 12, 80, 'mm'),
  /** Roll of the front sole against the rear, degrees. */
  forefootTwist: band(4, 6, 45, 'degrees'),
  /** Departure of the soles from their planes where they shall lie on the plates, mm RMS. */
  soleFlatness: band(2, 3.5, 20, 'mm'),
  /** Breadth of the toe box as a share of the ball width; less than `care` looks squeezed. */
  toeBox: z
    .strictObject({ care: range(0.3, 1.2, '').default(0.53), recast: range(0.3, 1.2, '').default(0.44) })
    .refine((b) => b.recast <= b.care, { path: ['recast'], message: 'must not be more than care' })
    .prefault({}),
  /** Bandage folded beyond the toes, mm. */
  beyondToes: band(8, 60, 150, 'mm'),
  /** Error of girth by cut edges that gape or overlap, mm at ball, waist or instep. */
  closing: band(3, 6, 60, 'mm'),
  /** Height of a step along the cut, mm. */
  cutStep: band(1.5, 3.5, 20, 'mm'),
  /** Share of the surface that repair made up, per cent. */
  madeUp: band(3, 12, 100, '%'),
  /** A measure of the cast against the customer's tape, per cent of the tape's. */
  tapePercent: range(0.5, 30, '%').default(3),
  /** Wall thickness of a ply of bandage, mm (from memory; 0.3 to 0.6). */
  plyMm: range(0.1, 3, 'mm').default(0.45),
  pair: z
    .strictObject({
      /** Up to 95 % of people differ less than about 6 mm (computed from 19 % of 2890 people over 4 mm: SATRA 2018, second-hand). */
      lengthMm: range(0.5, 40, 'mm').default(6),
      girthMm: range(0.5, 40, 'mm').default(8),
      pitchDeg: range(0.2, 30, 'degrees').default(2.5),
      leanDeg: range(0.2, 30, 'degrees').default(4),
    })
    .prefault({}),
});

export type CheckRules = z.output<typeof checkRules>;
export type Stance = CheckRules['disciplines']['other'];

/**
 * How the leg shall stand for a discipline, and the name of the rules that say so: `other` where the order names no
 * discipline, or one that the rules do not list.
 */
export function stanceFor({ disciplines }: CheckRules, discipline: string | undefined): { readonly name: string; readonly stance: Stance } {
  const name = discipline !== undefined && Object.hasOwn(disciplines, discipline) ? discipline : 'other';
  return { name, stance: (disciplines as Readonly<Record<string, Stance>>)[name] };
}

/**
 * What a small picture is made of: paths in a field of 96 × 64, drawn from below to above. The foot or last is drawn
 * quietly; what the rule is about stands out by weight and colour.
 */
export interface Drawing {
  /** Outlines of what is drawn quietly. */
  readonly base: string;
  /** Ground that the rule is about. */
  readonly area?: string;
  /** What is wanted, or what was before. */
  readonly dash?: string;
  /** Lines of a measure, and whatever else is drawn finely. */
  readonly fine?: string;
  /** What the rule is about. */
  readonly bold?: string;
}

export const FLOOR = 'M4 58H92';
/** A foot from its outer side, toes to the right. */
export const SIDE = 'M22 4C22 16 16 24 14 36C13 46 15 55 23 56C36 57 40 52 48 52C56 52 62 56 72 56C82 56 89 55 90 50C90.5 46 86 44 80 42C70 39 60 33 54 26C49 20 47 12 47 4';
export const RAISED = 'M20 2C20 12 15 18 13 28C11 36 14 43 22 44C34 45 40 44 47 48C55 53 62 56 72 56C82 56 89 55 90 50C90.5 46 86 44 80 42C70 39 60 31 53 23C48 16 45 10 45 2';
export const SPRUNG = 'M22 4C22 16 16 24 14 36C13 46 15 55 23 56C36 57 40 52 48 52C56 52 60 56 68 56C78 55 84 50 89 44C91 40 88 37 82 37C70 36 60 33 54 26C49 20 47 12 47 4';
/** A last from its side, its top closed. */
export const LAST = 'M20 12H50C50 20 54 27 60 33C68 39 78 42 84 44C90 46 91 50 90 53C88 56 80 56 72 56C62 56 56 52 48 52C40 52 36 57 23 56C15 55 13 46 14 36C16 26 19 20 20 12Z';
/** A sole from below, toes to the right. */
export const SOLE = 'M8 34C8 24 15 20 25 21C39 22 50 22 62 16C74 10 86 14 89 25C91 34 87 46 76 50C64 53 52 46 38 48C20 51 8 46 8 34Z';
/** The same with its toes apart. */
export const TOES = 'M72 51C62 53 52 46 38 48C20 51 8 46 8 34C8 24 15 20 25 21C39 22 50 22 60 17C64 15 68 14 72 14M72 14C74 9 82 8 86 12C90 17 88 24 82 25C78 25 75 23 74 21M78 25C84 24 90 27 89 32C88 36 82 36 78 34M79 35C84 35 88 37 86 41C84 44 79 43 76 42M77 43C81 43 84 46 82 49C79 51 75 49 73 48M73 49C76 49 77 52 75 54C72 55 70 53 69 52';
/** A heel and shank from behind. */
export const REAR = 'M36 4C36 16 31 28 31 40C31 52 37 57 48 57C59 57 65 52 65 40C65 28 60 16 60 4';
/** A cut across the ball. */
export const SECTION = 'M16 50C12 38 20 22 40 18C60 14 82 24 83 42C84 52 76 54 60 53C44 52 30 55 16 50Z';
/** The flat top of a last from above. */
export const TOP = 'M16 32C16 18 32 14 50 15C70 16 82 22 82 32C82 42 70 48 50 49C32 50 16 46 16 32Z';

export const circle = (x: number, y: number, r: number): string => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
/** A measured length with a stroke at either end. */
export const upright = (x: number, from: number, to: number): string => `M${x} ${from}V${to}M${x - 3} ${from}H${x + 3}M${x - 3} ${to}H${x + 3}`;
export const level = (y: number, from: number, to: number): string => `M${from} ${y}H${to}M${from} ${y - 3}V${y + 3}M${to} ${y - 3}V${y + 3}`;

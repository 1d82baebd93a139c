import type { Sentences } from './sentence.js';

const band = (what: string): Sentences[string] => ({ '': `${what} beyond {care} needs care, beyond {recast} a new cast.` });

/** The limits of the cast check. */
export const CHECK_SENTENCES: Sentences = {
  'check.aboveAnkleMm': { '': 'A cast shall reach {} above the inside ankle bone.' },
  'check.disciplines.*.forwardLeanDeg': { '': 'The shank shall lean {} to the toes.' },
  'check.disciplines.*.forwardLean': band('A forward lean that is off'),
  'check.disciplines.*.rearViewDeg': { '': 'Seen from behind, the Achilles line shall lean {} to the inner side.' },
  'check.disciplines.*.rearView': band('An Achilles line that is off'),
  'check.soleBend': band('A sole that is bent otherwise than its footbed'),
  'check.heelOnPlate': band('A heel seat that is lifted or tilted off the rear plate'),
  'check.ballOnHinge': band('A ball that lies off the hinge'),
  'check.forefootTwist': band('A forefoot that is rolled against the rear'),
  'check.soleFlatness': band('A sole that is uneven where it lay on the plates'),
  'check.toeBox': { '': 'Toes narrower than {care} of the ball width need care, narrower than {recast} a new cast.' },
  'check.beyondToes': band('Bandage that is folded beyond the toes'),
  'check.closing': band('A cut that changes a girth'),
  'check.cutStep': band('A step along the cut'),
  'check.madeUp': band('A surface of which the share that had to be made up is'),
  'check.tapePercent': { '': 'A measure that differs from the customer\'s tape by more than {} gets a note.' },
  'check.plyMm': { '': 'A ply of bandage is taken to be {} thick where no wall was measured.' },
  'check.pair.lengthMm': { '': 'Left and right may differ by {} in length.' },
  'check.pair.girthMm': { '': 'Left and right may differ by {} in girth.' },
  'check.pair.pitchDeg': { '': 'Left and right may differ by {} in pitch.' },
  'check.pair.leanDeg': { '': 'Left and right may differ by {} in lean.' },
};

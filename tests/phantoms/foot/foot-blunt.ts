import { bell, smoothMax, smoothStep, type Field } from '../surface/implicit.js';
import { footOfBones } from './foot-bones.js';
import { footOfSections } from './foot-sections.js';
import type { FootParameters } from './foot-parameters.js';
import type { ToeCover } from './toe-cover.js';

/**
 * Family C: a cast whose toes are lost in plaster. One of the other families, with its toes inside a blunt cap of bandage that
 * is longer than they are and folded over their ends, and one or two thick folds under them. The sole is flat, as pressed into
 * foam or stood on a board. Right foot, as in family A.
 */
export const bluntFoot = (p: FootParameters): Field => buriedIn(p, toeCover(p));

/** The foot inside that bandage. */
export const buriedFoot = (p: FootParameters): Field => buriedIn(p);

function buriedIn(p: FootParameters, cover?: ToeCover): Field {
  const buried: FootParameters = {
    ...p,
    toes: p.toes.map((t, i) => ({ ...t, length: t.length * (0.93 - 0.01 * i), turn: 0.5 * t.turn, hammer: 0 })),
    toeMerge: 2.4 * p.toeMerge,
    toeHollow: 0.4 * p.toeHollow,
    soleRoundness: 0,
  };
  // Half of the feet are drawn in each way; the decimals of the styloid's size serve as the coin.
  const draw = Math.floor(p.styloid * 1000) % 2 === 0 ? footOfBones : footOfSections;
  return draw(buried, cover);
}

function toeCover(p: FootParameters): ToeCover {
  const folds = [
    { x: 224, lean: 0.25, height: 1.6 + 0.9 * p.navicular, width: 7 },
    { x: 246, lean: 0.12, height: 0.8 + 0.9 * p.styloid, width: 6 },
  ];
  const thin = 8 + 2 * p.styloid;
  return {
    bandage: (x, y, z) => {
      // An oval slab that thins towards a rounded end; its outline runs back on the little toe's side.
      const ahead = (x - 176) / (95 + 0.34 * (y + 4));
      const side = (y - 0.5) / (40 - 5 * smoothStep(190, 262, x));
      const outline = Math.sqrt(Math.sqrt((ahead > 0 ? ahead : 0) ** 4 + side ** 4 + 1e-8)) - 1;
      const top = 37 - thin * smoothStep(185, 262, x) - 0.005 * (y - 8) * (y - 8) + 0.9 * Math.cos(y / 6.4) * smoothStep(212, 246, x);
      return smoothMax(smoothMax(34 * outline, 0.95 * (z - top), 15), 186 - x, 30);
    },
    melt: 3.5,
    soleRise: (x, y) => {
      const between = 1 - smoothStep(24, 44, Math.abs(y));
      return 3 * smoothStep(196, 222, x) - between * folds.reduce((sum, f) => sum + f.height * bell(x, f.x + f.lean * y, f.width), 0);
    },
  };
}

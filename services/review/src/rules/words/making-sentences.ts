import type { Sentences } from './sentence.js';

/** Printing and milling. */
export const MAKING_SENTENCES: Sentences = {
  'making.print.body': { solid: 'Lasts are printed solid.', hollow: 'Lasts are printed hollow, with a wall and drains.' },
  'making.print.wallMm': { '': 'The wall of a hollow piece is at least {} thick.' },
  'making.print.drain': { '': 'Each hollow runs empty by {count}, {diameterMm} wide.' },
  'making.print.split.by': { none: 'The last is in one piece.', plane: 'The last parts into heel part and fore part.', wedge: 'A wedge between heel part and fore part is drawn from the shoe first.' },
  'making.print.split.at': { '': 'The cut meets the level of the sole at {} of the length from the heel.' },
  'making.print.split.leanDeg': { '': 'The cut leans {} with its top to the toes.', '0': 'The cut stands upright.' },
  'making.print.split.wedgeAngleDeg': { '': 'The sides of a wedge stand {} to each other.' },
  'making.print.split.wedgeWidthMm': { '': 'A wedge is {} wide at the sole.' },
  'making.print.pins.diameterMm': { '': 'Pins and rails are {} thick.' },
  'making.print.pins.lengthMm': { '': 'A pin stands out {} where a piece was split to fit the bed.' },
  'making.print.pins.clearanceMm': { '': 'Between pin and socket there is {} of room all round.' },
  'making.print.bedMm': { '': 'The printer has room for {0} in width, {1} in depth and {2} in height.' },
  'making.print.gapMm': { '': '{} stays free between pieces and to the edge of the bed.' },
  'making.print.overhangDeg': { '': 'A face that leans out by more than {} from the vertical hangs over.' },
  'making.print.thinMm': { '': 'Places thinner than {} are reported.' },
  'making.milling.along': { length: 'The last lies along the blank with its length.', height: 'The last stands along the blank with its height.', least: 'The last lies in the blank whichever way needs the smaller one.' },
  'making.milling.stockMm': { '': 'The blank has {} of stock round the last on every side.' },
  'making.milling.holdStartMm': { '': 'The machine holds {} more at the end of the heel, or the sole.' },
  'making.milling.holdEndMm': { '': 'The machine holds {} more at the other end.' },
  'making.milling.roundMm': { '': 'Edges of the blank are rounded up to multiples of {}.' },
};

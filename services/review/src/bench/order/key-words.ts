import type { Key } from '../../parts/keys.js';

/** The keys of the bench, for the list of keys; the parts of the bench hear them themselves. */
export const BENCH_KEYS: readonly Key[] = [
  { press: '1 … 7', says: 'standing, top, sole, outer side, inner side, heel, toes' },
  { press: 'q w e', says: 'scan, cleaned cast, last' },
  { press: 'x', says: 'change what is shown and what is laid against it' },
  { press: 'c', says: 'change from scan to cleaned cast' },
  { press: 'g', says: 'ground of marks' },
  { press: 't', says: 'tapes' },
  { press: 'm', says: 'lengths and widths' },
  { press: 'l', says: 'movable section; arrows move and tilt it' },
  { press: 'f b', says: 'foot frame, footbed' },
  { press: 'n p', says: 'next and previous mark' },
  { press: 's k', says: 'smooth or keep the mark' },
  { press: 'a d', says: 'add a patch, protect an area' },
  { press: '< >', says: 'smaller, larger patch' },
  { press: 'Escape', says: 'put the tool away' },
  { press: 'u r', says: 'undo, redo' },
  { press: '← → ↑ ↓', says: 'turn; with Shift, shift' },
  { press: '+ −', says: 'nearer, further' },
];

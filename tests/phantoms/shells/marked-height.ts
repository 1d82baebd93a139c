import type { CutError } from './cut-error.js';
import type { Seam } from './seam.js';
import type { ByCut, Sections } from './sections.js';

/** The greatest height, either way, of marks, seam and what the closing left, over a point of the skin; `marks` are sizes. */
export function markedHeight(sections: Sections, marks: (x: number, y: number, z: number) => number, seam: Seam, { shelf, lip, gap }: CutError): (x: number, y: number, z: number) => number {
  const by: ByCut = { along: 0, turn: 0, across: 0 };
  return (x, y, z) => {
    const mark = marks(x, y, z);
    if (!sections.locate(x, y, z, by)) return mark;
    const flap = by.across < 0 ? -1 : 1;
    const across = Math.abs(by.across);
    const closed = Math.abs(shelf(flap, across, by.along)) + Math.abs(lip(flap, across, by.along)) + Math.abs(gap(by.along));
    return Math.max(mark, closed, Math.abs(seam(by.across, by.along)));
  };
}

import { describe, expect, it } from 'vitest';
import { gradeGrowth } from '@cast-to-last/foot/grade';
import { gradeBase, gradeBody, targetsOf } from '@cast-to-last/pipeline/last/grade/grade-body';
import { measuredBody } from '../support/measured-body.js';

/** F. Y. Golding, The Manufacture of Boots and Shoes: the men's run, sizes 1 to 5, girths in mm from his inches (seen). */
const JOINT = [184.1, 190.5, 196.8, 203.2, 209.6];
const INSTEP = [191.3, 197.6, 204.0, 210.3, 216.7];
/** His figures are given to a tenth of a millimetre. */
const ROUNDED = 0.06;

describe("Golding's run of men's lasts", () => {
  it('is met by steps of the English system', () => {
    for (let size = 1; size < JOINT.length; size++) {
      const { girth } = gradeGrowth({ system: 'uk', sizes: size, widths: 0 });
      expect(Math.abs(184.15 + girth - JOINT[size])).toBeLessThan(ROUNDED);
      expect(Math.abs(191.29 + girth - INSTEP[size])).toBeLessThan(ROUNDED);
    }
  });

  it('is met by a last of his size 1 that is graded to 2, 3, 4 and 5, within 0.3 mm on the tape (seed 77)', async () => {
    const foot = await measuredBody(77, {});
    const first = gradeBody(foot, gradeBase(foot), { length: 220, ball: JOINT[0], instep: INSTEP[0] }).body;
    const base = gradeBase(first);
    expect(Math.abs((base.girths.ball as number) - JOINT[0])).toBeLessThan(0.3);
    for (let size = 1; size < JOINT.length; size++) {
      const graded = gradeBase(gradeBody(first, base, targetsOf(base, gradeGrowth({ system: 'uk', sizes: size, widths: 0 }))).body);
      expect(Math.abs((graded.girths.ball as number) - JOINT[size])).toBeLessThan(0.3);
      expect(Math.abs((graded.girths.instep as number) - INSTEP[size])).toBeLessThan(0.3);
      // A third of an inch a size (ISO/TS 19407:2015, second-hand).
      expect(graded.length - base.length).toBeCloseTo((size * 25.4) / 3, 4);
    }
  });
});

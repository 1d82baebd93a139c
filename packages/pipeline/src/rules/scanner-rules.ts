import { z } from 'zod';
import { range } from '../number-range.js';

/** The limits of the scanner check: part of the rule set. Common practice, no source; a last is measured to about half a millimetre. */

const millimetres = range(0.01, 10, 'mm');

export const scannerRules = z.strictObject({
  /** Most form error of a ball: width of the shell about the fitted sphere that holds 95 % of its points, mm. */
  maxFormMm: millimetres.default(0.25),
  /** Most size error of a ball, either way: fitted less calibrated diameter, mm. */
  maxSizeMm: millimetres.default(0.2),
  /** Most sphere-spacing error, either way: measured less calibrated distance of the centres, mm. */
  maxSpacingMm: millimetres.default(0.25),
  /** Days for which a check is good, 1 to 1100. */
  validDays: z.int().min(1, 'must be at least 1 day').max(1100, 'must be at most 1100 days').default(90),
});

export type ScannerRules = z.output<typeof scannerRules>;

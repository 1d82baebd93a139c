import { CastError } from '../errors.js';
import type { LengthUnit } from '../records.js';

export const MILLIMETRES: Readonly<Record<LengthUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

const NAMES: Readonly<Record<LengthUnit, string>> = { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches' };

const UNITS = Object.keys(MILLIMETRES) as LengthUnit[];

/**
 * Longest extent of a foot cast along its own principal axes, mm. Soles run from about 180 mm (a schoolchild's) to 340 mm,
 * and with its leg a cast stands up to 400 mm tall, which turns the longest axis towards its diagonal. Those who begin to
 * walk have feet of 110 to 120 mm: casts down to `leastOfChild` are taken where no unit makes an ordinary one. Common
 * practice, no source; feet of adults: 219 to 302 mm from the 1st to the 99th percentile (ANSUR II, 2012).
 */
export const FOOT_CAST_SIZE = {
  least: 170,
  leastOfChild: 110,
  most: 480,
  /** What the operator's word for the unit is believed for, with a warning: table or stand may have been scanned, too. */
  leastBelieved: 100,
  mostBelieved: 1500,
} as const;

/** To three digits. What sets thousands apart takes a twentieth of a second to load, so sizes that have none do without. */
function rounded(n: number): string {
  const short = Number(n.toPrecision(3));
  return short >= 1e-6 && short < 1000 ? String(short) : short.toLocaleString('en-US', { maximumSignificantDigits: 3 });
}

const unitsFrom = (least: number, extent: number): LengthUnit[] =>
  UNITS.filter((unit) => extent * MILLIMETRES[unit] >= least && extent * MILLIMETRES[unit] <= FOOT_CAST_SIZE.most);

/** The units in which `extent` (in the file's numbers) is the size of a foot cast; those that make it a small child's where there are no others. */
export function likelyUnits(extent: number): LengthUnit[] {
  const ordinary = unitsFrom(FOOT_CAST_SIZE.least, extent);
  return ordinary.length > 0 ? ordinary : unitsFrom(FOOT_CAST_SIZE.leastOfChild, extent);
}

/**
 * The unit of a file from the longest extent of what it holds, and the sentence that says so.
 *
 * @throws CastError `unit-ambiguous`, `size-not-foot`
 */
export function inferUnit(extent: number): { unit: LengthUnit; said: string } {
  const likely = likelyUnits(extent);
  if (likely.length === 1) {
    const [unit] = likely;
    const mm = unit === 'mm' ? '' : ` (${rounded(extent * MILLIMETRES[unit])} mm)`;
    return { unit, said: `The file names no unit; ${NAMES[unit]} were taken, because its longest extent of ${rounded(extent)}${mm} then has the size of a foot cast.${orOfChild(extent, unit)}` };
  }
  const sizes = (units: readonly LengthUnit[], joint: string): string => units.map((unit) => `${rounded(extent * MILLIMETRES[unit])} mm in ${NAMES[unit]}`).join(joint);
  if (likely.length > 1) {
    throw new CastError(
      'unit-ambiguous',
      `The longest extent of the scan is ${rounded(extent)}: ${sizes(likely, ' or ')}, and both could be a foot cast.`,
      `Say which with --unit ${likely.join(' or --unit ')}.`,
    );
  }
  throw new CastError(
    'size-not-foot',
    `The longest extent of the scan is ${rounded(extent)}: ${sizes(UNITS, ', ')}. None of these is the size of a foot cast (${FOOT_CAST_SIZE.leastOfChild} to ${FOOT_CAST_SIZE.most} mm).`,
    'Check that the right file was chosen; cut table and stand out of the scan, or name the unit with --unit if the size is right.',
  );
}

/** What to say where another unit would make it a small child's. */
function orOfChild(extent: number, taken: LengthUnit): string {
  const others = unitsFrom(FOOT_CAST_SIZE.leastOfChild, extent).filter((unit) => unit !== taken);
  return others.map((unit) => ` If it is a small child's, ${rounded(extent * MILLIMETRES[unit])} mm in ${NAMES[unit]}, say so with --unit ${unit}.`).join('');
}

/**
 * Whether the unit that the operator named can be right; a sentence where the size is unusual.
 *
 * @throws CastError `size-not-foot`
 */
export function checkGivenUnit(extent: number, unit: LengthUnit): string | null {
  const mm = extent * MILLIMETRES[unit];
  if (mm < FOOT_CAST_SIZE.leastBelieved || mm > FOOT_CAST_SIZE.mostBelieved) {
    const others = likelyUnits(extent);
    throw new CastError(
      'size-not-foot',
      `In ${NAMES[unit]} the longest extent of the scan is ${rounded(mm)} mm, which is no foot cast.`,
      others.length > 0 ? `Try --unit ${others.join(' or --unit ')}, or leave the unit out.` : 'Check that the right file was chosen.',
    );
  }
  if (mm >= FOOT_CAST_SIZE.leastOfChild && mm <= FOOT_CAST_SIZE.most) return null;
  return `The longest extent of the scan is ${rounded(mm)} mm, unusual for a foot cast; the unit was taken as given.`;
}

import { ANKLE_BONE, insideAnkleBone } from '@cast-to-last/foot/position/inside-ankle-bone';
import { standsOnLeg } from '@cast-to-last/foot/leg-end';
import type { MeasureId } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS, isTaken } from '@cast-to-last/foot/measures';
import { joinedNames } from '../joined-names.js';
import type { Finding } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf } from './reading.js';

export const COVERAGE = {
  /** Height of the outside ankle bone as a share of foot length: 73 mm of 271 mm for men (ANSUR II, lateral malleolus). */
  outsideBone: 0.27,
  /** The inside one stands so much higher, mm (common practice, no source). */
  insideOverOutside: 10,
  /** How far a height from these may lie off, mm: 1.96 SD of the outside bone's in ANSUR II, 5.7 mm. */
  shareError: 11,
} as const;

/** What the upper part of every last is built to: without one of these no shoe can be made. */
const BUILT_TO: readonly MeasureId[] = ['ball-girth', 'waist-girth', 'instep-girth', 'long-heel-girth'];

/**
 * How far up the cast reaches, against the inside ankle bone: about 25 mm above it (common practice, no source). A new cast
 * is asked for where it ends so low that a last cannot be built from what is there.
 */
export function checkCoverage(context: CheckContext): CheckPart {
  const { aligned, measured, rules } = context;
  const { cast } = positionOf(context);
  const found = insideAnkleBone(cast);
  const bone = found === null ? COVERAGE.outsideBone * measured.landmarks.footLength + COVERAGE.insideOverOutside : found[2];
  const needed = bone + rules.aboveAnkleMm;
  const reach = cast.wholeTo;
  const top = readingOf({
    id: 'stops-short', label: 'top edge', value: reach, uncertainty: found === null ? COVERAGE.shareError : ANKLE_BONE.error, unit: 'mm', wanted: needed, at: found,
    why: found === null ? 'The inside ankle bone does not show on the cast; its height was taken from the foot length.' : '',
  });
  const findings: Finding[] = [];
  if (reach < needed) {
    const where = found === null ? 'would lie' : 'lies';
    const lacking = measured.measurements.filter((m) => BUILT_TO.includes(m.id) && !isTaken(m)).map(({ id }) => MEASURE_LABELS[id]);
    const result = lacking.length === 0 ? 'Girths above that cannot be taken.' : `So the ${joinedNames(lacking)} cannot be taken, and no last can be built without. Scan the cast again if it is whole there.`;
    findings.push({
      code: top.id, severity: lacking.length === 0 ? 'care' : 'recast', value: reach, limit: needed, unit: 'mm', uncertainty: top.uncertainty, at: found,
      text: `The cast is whole up to ${reach.toFixed(0)} mm; about ${needed.toFixed(0)} mm are usual, ${rules.aboveAnkleMm} mm above the inside ankle bone, which ${where} at ${bone.toFixed(0)} mm. ${result}`,
    });
  }
  const end = standsOnLeg(context.surface, measured.landmarks.footLength);
  if (end !== null) {
    findings.push({
      code: 'stands-on-top', severity: 'note', value: end, limit: null, unit: 'mm', uncertainty: null, at: null,
      text: `From ${end.toFixed(0)} mm up something stands on the cast that is no leg, such as a rod or a block: nothing is measured there. The last keeps it unless the rules give it a flat top below that.`,
    });
  } else if (aligned.opening === null) {
    findings.push({
      code: 'top-closed', severity: 'note', value: null, limit: null, unit: '', uncertainty: null, at: null,
      text: 'The scan is closed at the top; the flat top counts as surface.',
    });
  }
  return { readings: [top], findings };
}

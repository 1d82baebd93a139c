import { LOAD_CHANGE_PERCENT } from '@cast-to-last/foot/published/load-while-casting';
import type { Casting } from '../order.js';
import type { CheckContext, CheckPart } from './check-context.js';

/** The load that casts for such footwear are taken at: sitting, the leg's weight on the foot (common practice, no source). */
export const USUAL_LOAD = 'seated';

const WORDS: Record<NonNullable<Casting['load']>, string> = {
  none: 'with no load', seated: 'seated, with the weight of the leg', half: 'with half the body weight', full: 'with the full body weight',
};

/** Says where the load on the foot was not the usual one or is not known, and what that does to a foot. */
export function checkLoad({ casting }: Pick<CheckContext, 'casting'>): CheckPart {
  const { load, ...other } = casting;
  // Where there is no word on how the cast was taken at all, the load is no more unknown than the rest.
  const silent = load === undefined && Object.values(other).every((said) => said === undefined);
  if (silent || load === USUAL_LOAD) return { readings: [], findings: [] };
  const { length, width, archHeight } = LOAD_CHANGE_PERCENT;
  const change =
    `From no load to half the body weight a foot grows by ${length.half} % in length and ${width.half} % in width and its arch sinks by ${-archHeight.half} %; ` +
    `at full weight it is ${length.full} %, ${width.full.toFixed(1)} % and ${(-archHeight.full).toFixed(1)} % (Tsung 2003).`;
  const said = load === undefined ? 'The order does not say what load stood on the foot.' : `The cast was taken ${WORDS[load]}; ${WORDS[USUAL_LOAD]} is usual.`;
  const code = load === undefined ? 'load-unknown' : 'load-unusual';
  return { readings: [], findings: [{ code, severity: 'note', value: null, limit: null, unit: '', uncertainty: null, at: null, text: `${said} ${change}` }] };
}

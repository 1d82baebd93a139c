import { isTaken } from '@cast-to-last/foot/measures';
import type { MadeUpArea } from '@cast-to-last/foot/position/made-up-areas';
import type { Region } from '@cast-to-last/foot/position/regions';
import type { CheckContext, CheckPart } from './check-context.js';
import { positionOf } from './position.js';
import { readingOf } from './reading.js';
import { weigh } from './weigh.js';

/** Share of the surface, per cent, that repair may have made up before it is worth saying. */
export const MADE_UP_NOTE = 0.3;

/** Regions that have at least this much made up are named, mm². */
const NAMED_FROM = 30;

const WORDS: Record<Region, string> = {
  toes: 'on the toes', ball: 'on the ball', sole: 'on the sole', arch: 'on the arch', heel: 'on the heel', instep: 'on the instep', ankle: 'round the ankle', sides: 'on the sides',
};

/**
 * How much of the surface was missing in the scan and was made up, in all and by region. A new cast is asked for beyond the
 * limit, and where so much is missing at an end of the foot that its length cannot be told: what closes a missing heel is
 * half as large as what was there, so that the share alone says too little.
 */
export function checkSurfaceMadeUp(context: CheckContext): CheckPart {
  const { surface, regions } = positionOf(context).madeUp;
  const all = regions.reduce((sum, { area }) => sum + area, 0);
  const share = surface === 0 ? 0 : (100 * all) / surface;
  const largest = regions.reduce((a, b) => (b.area > a.area ? b : a));
  const { care, recast } = context.rules.madeUp;
  const endless = share > care && context.measured.measurements.some((m) => m.id === 'foot-length' && !isTaken(m));
  const madeUp = readingOf({ id: 'surface-made-up', label: 'surface made up', value: share, unit: '%', wanted: 0, care, recast: endless ? care : recast, at: largest.middle });
  const readings = [
    madeUp,
    ...regions.map(({ region, area, middle }) => readingOf({ id: `missing-${region}`, label: `missing ${WORDS[region]}`, value: area, unit: 'mm²', at: middle })),
  ];
  const text = `${share.toFixed(1)} % of the surface was missing in the scan and has been made up from what lies round it${places(regions)}.${endless ? ' Where the foot ends is not known, and so its length is not. Scan the cast again if it is whole there.' : ''}`;
  const beyond = weigh(madeUp, () => text);
  if (beyond !== null) return { readings, findings: [beyond] };
  if (!(share > MADE_UP_NOTE)) return { readings, findings: [] };
  const note = { code: madeUp.id, severity: 'note', value: share, limit: care, unit: '%', uncertainty: null, at: largest.middle, text } as const;
  return { readings, findings: [note] };
}

function places(regions: readonly MadeUpArea[]): string {
  const named = regions.filter(({ area }) => area >= NAMED_FROM).sort((a, b) => b.area - a.area);
  return named.length === 0 ? '' : `: ${named.map(({ region, area }) => `${area.toFixed(0)} mm² ${WORDS[region]}`).join(', ')}`;
}

import { LOAD_CHANGE_PERCENT } from '@cast-to-last/foot/published/load-while-casting';
import type { Casting } from '../order.js';
import type { Finding } from '../records.js';
import type { ComparedCast, ComparedFigure, Which } from './compared-cast.js';
import { suspectOf } from './suspect.js';

/** A finding on two casts together. */
export interface PairFinding extends Finding {
  /** The cast that looks wrong; null where that cannot be told. */
  readonly suspect: Which | null;
}

const LOADS: Record<NonNullable<Casting['load']>, string> = {
  none: 'no load', seated: 'the weight of the seated leg', half: 'half the body weight', full: 'the full body weight',
};

/** Length that a foot gains from no load to this one, per cent; sitting lies between no load and half the weight. */
const GAIN: Record<NonNullable<Casting['load']>, readonly [number, number]> = {
  none: [0, 0],
  seated: [0, LOAD_CHANGE_PERCENT.length.half],
  half: [LOAD_CHANGE_PERCENT.length.half, LOAD_CHANGE_PERCENT.length.half],
  full: [LOAD_CHANGE_PERCENT.length.full, LOAD_CHANGE_PERCENT.length.full],
};

/** What differs more than feet of one person usually do, and which cast looks wrong where that can be told. */
export function pairFindings(figures: readonly ComparedFigure[], first: ComparedCast, second: ComparedCast): PairFinding[] {
  const load = loadFinding(first, second);
  const explained = load === null ? 0 : mostGain(first.load, second.load);
  return [...(load === null ? [] : [load]), ...figures.filter((f) => f.beyond).map((f) => figureFinding(f, first, second, explained))];
}

function loadFinding(first: ComparedCast, second: ComparedCast): PairFinding | null {
  if (first.load === undefined || second.load === undefined || first.load === second.load) return null;
  const percent = mostGain(first.load, second.load);
  return {
    code: 'pair-load', severity: 'care', value: null, limit: null, unit: '', uncertainty: null, at: null, suspect: null,
    text:
      `The two casts were taken under different loads: ${first.name} with ${LOADS[first.load]}, ${second.name} with ${LOADS[second.load]}. ` +
      `That alone makes up to ${percent.toFixed(1)} % of the length (Tsung 2003), and more of width and arch: their differences say little of the feet.`,
  };
}

/** The most by which two loads can make one foot differ in length, per cent. */
function mostGain(a: Casting['load'], b: Casting['load']): number {
  if (a === undefined || b === undefined) return 0;
  return Math.max(GAIN[a][1] - GAIN[b][0], GAIN[b][1] - GAIN[a][0]);
}

function figureFinding(figure: ComparedFigure, first: ComparedCast, second: ComparedCast, explainedPercent: number): PairFinding {
  const { id, label, unit, difference, expected, limit, uncertainty } = figure;
  const off = Math.abs(difference - expected);
  const sign = unit === 'deg' ? '°' : ` ${unit}`;
  const suspicion = suspectOf(figure, first, second);
  const beyond = off - (limit ?? 0);
  const byLoad = unit === 'mm' && beyond <= (explainedPercent / 100) * Math.max(figure.first, figure.second) && explainedPercent > 0;
  // What may as well be within the limit, or is the load's doing, is worth a look and no more.
  const severity = byLoad || beyond <= uncertainty ? 'note' : 'care';
  const wanted = Math.abs(expected) < 0.05 ? '' : `, where ${Math.abs(expected).toFixed(1)}${sign} were wanted`;
  const doubt = byLoad ? ' The different loads may explain it.' : severity === 'note' ? ` It is uncertain by ${uncertainty.toFixed(1)}${sign}.` : '';
  return {
    code: `pair-${id}`, severity, value: difference, limit, unit, uncertainty, at: null, suspect: suspicion?.suspect ?? null,
    text:
      `The ${label} of ${first.name} is ${figure.first.toFixed(1)}${sign}, of ${second.name} ${figure.second.toFixed(1)}${sign}: they differ by ${Math.abs(difference).toFixed(1)}${sign}${wanted}; up to ${limit}${sign} is usual.${doubt} ` +
      (suspicion === null ? 'Which of the two is wrong cannot be told from the casts; feet differ, too.' : suspicion.why),
  };
}

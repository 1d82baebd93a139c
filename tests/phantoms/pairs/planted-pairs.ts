import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { CastError } from '@cast-to-last/pipeline/errors';
import { compareCasts } from '@cast-to-last/pipeline/pair/compare-casts';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import type { Casting } from '@cast-to-last/pipeline/order';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import type { ComparedCast } from '@cast-to-last/pipeline/pair/compared-cast';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { PhantomOptions } from '../phantom-options.js';
import { makePhantom } from '../make-phantom.js';
import type { Position } from '../position/position.js';
import { randomFrom } from '../random.js';

/** What is done to the right cast of a pair. */
export interface Planted {
  readonly name: string;
  /** Its position, given the left cast's. */
  readonly position?: (right: Position, left: Position) => Position;
  /** The whole cast larger by this share where it is the longer one, smaller where it is the shorter. */
  readonly grownBy?: number;
  readonly load?: Casting['load'];
  /** Finding codes of which one must come; none for a sound pair. */
  readonly codes: readonly string[];
  /** Whether the right cast should be named. */
  readonly tells: boolean;
}

const { pair } = DEFAULT_RULES.check;

/** Differences of 1.5 times the limits, and none. */
export const PLANTED: readonly Planted[] = [
  { name: 'nothing', codes: [], tells: false },
  { name: `forward lean, ${1.5 * pair.leanDeg}° more`, position: (r, l) => ({ ...r, leanInFrameDeg: l.leanInFrameDeg + 1.5 * pair.leanDeg }), codes: ['pair-forward-lean'], tells: true },
  { name: `rear view, ${1.5 * pair.leanDeg}° inwards`, position: (r, l) => ({ ...r, rearViewDeg: l.rearViewDeg + 1.5 * pair.leanDeg }), codes: ['pair-rear-view'], tells: true },
  { name: `pitch, front sole bent up by ${1.5 * pair.pitchDeg}° more`, position: (r, l) => ({ ...r, bendDeg: l.bendDeg + 1.5 * pair.pitchDeg, exact: true }), codes: ['pair-sole-bend'], tells: true },
  { name: `size, everything larger or smaller by 3.5 %: ${1.5 * pair.lengthMm} mm of length`, grownBy: 0.035, codes: ['pair-foot-length'], tells: false },
  { name: 'load: full body weight against seated', load: 'full', codes: ['pair-load'], tells: false },
];

export interface PlantedResult {
  readonly seed: number;
  readonly planted: Planted;
  readonly refused: string | null;
  readonly found: boolean;
  readonly suspectRight: boolean;
  readonly suspectWrong: boolean;
  /** Codes of findings of care on what was not planted. */
  readonly others: readonly string[];
  readonly said: readonly string[];
}

const BED = { heelHeightMm: 20, hingeHeightMm: 0, toeHeightMm: 10, heelToHingeMm: 185, hingeToToeMm: 90 };
const HEEL = (Math.asin(20 / 185) * 180) / Math.PI;
const TOE = (Math.asin(10 / 90) * 180) / Math.PI;

/** A sound left cast against a sound right one and against each planted one. */
export async function comparePlanted(seed: number): Promise<PlantedResult[]> {
  const random = randomFrom(seed, 'pair');
  const sound = (): Position => ({
    bendDeg: HEEL + TOE + random.normalWithin(0, 0.4, 2), hingeMm: random.normalWithin(0, 1.5, 2), pressMm: random.between(2.6, 4),
    leanInFrameDeg: 3 - HEEL + random.normalWithin(0, 1, 2), rearViewDeg: random.normalWithin(0, 1, 2),
  });
  const plain: PhantomOptions = { triangles: 25_000, denseTriangles: 25_000, footSeed: seed, oddities: [], missingSole: false, rise: random.between(60, 100), unit: 'mm' };
  const casting: Casting = { discipline: 'cycling-type', footbed: BED, load: 'seated' };
  const standing = { left: sound(), right: sound() };
  const left = await castOf('the left cast', 2 * seed, { ...plain, side: 'left', position: standing.left }, casting, 0);
  let longer = 1;
  const results: PlantedResult[] = [];
  for (const planted of PLANTED) {
    const options: PhantomOptions = { ...plain, side: 'right', position: planted.position?.(standing.right, standing.left) ?? standing.right };
    const other = typeof left === 'string' ? left : await castOf('the right cast', 2 * seed + 1, options, { ...casting, load: planted.load ?? 'seated' }, longer * (planted.grownBy ?? 0));
    if (planted.codes.length === 0 && typeof left !== 'string' && typeof other !== 'string') longer = lengthOf(other) >= lengthOf(left) ? 1 : -1;
    results.push(typeof left === 'string' || typeof other === 'string' ? refusal(seed, planted, String(other)) : judge(seed, planted, left, other));
  }
  return results;
}

function lengthOf({ measurements }: ComparedCast): number {
  const length = measurements.find((m) => m.id === 'foot-length');
  return length !== undefined && 'value' in length ? length.value : NaN;
}

const refusal = (seed: number, planted: Planted, refused: string): PlantedResult => ({ seed, planted, refused, found: false, suspectRight: false, suspectWrong: false, others: [], said: [] });

function judge(seed: number, planted: Planted, left: ComparedCast, right: ComparedCast): PlantedResult {
  const { findings } = compareCasts(left, right, DEFAULT_RULES.check);
  const careful = findings.filter((f) => f.severity !== 'note');
  const meant = careful.filter((f) => planted.codes.includes(f.code));
  // A larger cast is larger everywhere; how the leg stands and the sole bends changes the girths round heel and ankle, and the length.
  const goesAlong = (code: string): boolean => (planted.grownBy !== undefined && /length|girth/.test(code)) || (planted.position !== undefined && /heel-girth|ankle-girth|foot-length/.test(code));
  return {
    seed, planted, refused: null, found: meant.length > 0,
    suspectRight: planted.tells && meant.some((f) => f.suspect === 'second'),
    suspectWrong: meant.some((f) => f.suspect === 'first'),
    others: careful.map((f) => f.code).filter((code) => !planted.codes.includes(code) && !goesAlong(code)),
    said: findings.map((f) => `${f.code} ${f.severity} ${f.value?.toFixed(1) ?? ''} ± ${f.uncertainty?.toFixed(1) ?? ''} ${f.suspect ?? ''}`),
  };
}

/** A cast through the check; the code of the refusal where there is one. */
async function castOf(name: string, seed: number, options: PhantomOptions, casting: Casting, grownBy: number): Promise<ComparedCast | string> {
  const { scan, truth } = makePhantom(seed, options);
  const bytes = writeStl({ positions: scan.positions.map((c) => c * (1 + grownBy)), triangles: scan.triangles });
  try {
    const outcome = await checkScan({ bytes, fileName: 'phantom.stl', side: truth.side, kind: 'positive', unit: 'mm', casting }, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, stage) => stage());
    return compared(name, outcome);
  } catch (error) {
    if (error instanceof CastError) return error.code;
    throw error;
  }
}

const compared = (name: string, { aligned, casting, measured, check }: CheckOutcome): ComparedCast => ({
  name, side: aligned.side, load: casting.load, measurements: measured.measurements, check, mesh: measured.mesh,
});

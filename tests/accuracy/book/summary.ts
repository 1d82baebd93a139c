import type { MarkScore } from '../../phantoms/scoring/score-marks.js';
import type { ErrorSums } from '../../phantoms/scoring/score-surface.js';
import { addSums, percentile, rms } from '../../phantoms/scoring/score-surface.js';
import { REGIONS } from '../../phantoms/truth.js';
import type { BookCast } from '../cast-scores.js';
import { shareInterval } from './statistics.js';

/** What book and summary say, drawn together from the casts' scores. */
export interface BookFigures {
  readonly casts: number;
  readonly refused: readonly { readonly seed: number; readonly why: string }[];
  readonly measures: readonly { readonly id: string; readonly differences: readonly number[] }[];
  readonly frameRms: readonly number[];
  readonly recall: readonly { readonly by: string; readonly rows: readonly Share[] }[];
  readonly falseMarks: readonly number[];
  readonly falseOnBare: readonly number[];
  readonly again: readonly number[];
  readonly depthErrors: readonly number[];
  readonly left: { readonly scanned: number; readonly program: number; readonly whole: number };
  readonly elsewhere: { readonly program: Moved; readonly whole: Moved };
}

export interface Share {
  readonly name: string;
  readonly found: number;
  readonly of: number;
  readonly low: number;
  readonly high: number;
}

/** mm */
export interface Moved {
  readonly rms: number;
  readonly p995: number;
}

const isFinger = (m: MarkScore): boolean => m.kind === 'dent' || m.kind === 'bump';
const ANGLES = new Set(['ball-angle']);
export const unitOf = (id: string): string => (ANGLES.has(id) ? '°' : 'mm');

export function bookFigures(casts: readonly BookCast[]): BookFigures {
  const scores = casts.flatMap(({ score }) => (score === null ? [] : [score]));
  const marks = scores.flatMap(({ marks: m }) => m.planted);
  const counted = marks.filter((m) => isFinger(m) && Math.abs(m.depth) >= 0.8 && m.width >= 8 && m.width <= 28);
  const ids = [...new Set(scores.flatMap((s) => s.measures.map(({ id }) => id)))];
  const pooled = (which: (cast: BookCast) => ErrorSums | undefined): ErrorSums => {
    const all: ErrorSums = { count: 0, squares: 0, sample: [] };
    for (const cast of casts) {
      const sums = cast.score === null ? undefined : which(cast);
      if (sums !== undefined) addSums(all, sums);
    }
    return all;
  };
  const moved = (sums: ErrorSums): Moved => ({ rms: rms(sums), p995: percentile(sums, 0.995) });
  const steps = (by: string, group: readonly MarkScore[], edges: readonly number[], of: (m: MarkScore) => number) => ({
    by, rows: edges.slice(1).map((high, i) => share(`${edges[i]} to ${high} mm`, group.filter((m) => of(m) >= edges[i] && of(m) < high))),
  });
  return {
    casts: casts.length,
    refused: casts.flatMap(({ seed, refused }) => (refused === null ? [] : [{ seed, why: refused }])),
    measures: ids.map((id) => ({ id, differences: scores.flatMap((s) => s.measures.filter((m) => m.id === id && m.error !== null).map((m) => m.error as number)) })).filter(({ differences }) => differences.length > 1),
    frameRms: scores.map((s) => s.frameRms),
    recall: [
      { by: 'all dents and bumps from 0.8 mm, 8 to 28 mm wide', rows: [share('all', counted), share('away from the toes', counted.filter((m) => m.region !== 'toes'))] },
      { by: 'region', rows: REGIONS.map((region) => share(region, counted.filter((m) => m.region === region))) },
      steps('depth (all dents and bumps)', marks.filter(isFinger), [0.3, 0.5, 0.8, 1.2, 2, 5.1], (m) => Math.abs(m.depth)),
      steps('width', counted, [8, 12, 16, 20, 24, 28.1], (m) => m.width),
      { by: 'kind, from 0.8 mm', rows: (['dent', 'bump', 'ridge', 'seam'] as const).map((kind) => share(kind, marks.filter((m) => m.kind === kind && Math.abs(m.depth) >= 0.8))) },
    ],
    falseMarks: scores.map((s) => s.marks.falseMarks.length),
    falseOnBare: scores.filter((s) => s.marks.planted.length === 0).map((s) => s.marks.falseMarks.length),
    again: scores.flatMap((s) => (s.secondPassMarks === null ? [] : [s.secondPassMarks])),
    depthErrors: marks.flatMap((m) => (m.found && m.depthError !== null ? [Math.abs(m.depthError)] : [])),
    left: { scanned: rms(pooled((c) => c.score?.surface.fingersScanned)), program: rms(pooled((c) => c.score?.surface.fingers)), whole: rms(pooled((c) => c.whole.fingers)) },
    elsewhere: { program: moved(pooled((c) => c.score?.surface.elsewhere)), whole: moved(pooled((c) => c.whole.elsewhere)) },
  };
}

function share(name: string, group: readonly MarkScore[]): Share {
  const found = group.filter((m) => m.found).length;
  return { name, found, of: group.length, ...shareInterval(found, group.length) };
}

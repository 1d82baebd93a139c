import { transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import type { PlantedMark, Region } from '../truth.js';

/** What the program says of one mark, as in report.json: centre in the program's foot frame, depth signed. */
export interface ReportedMark {
  readonly kind: 'dent' | 'bump' | 'ridge' | 'seam';
  readonly centre: readonly [number, number, number];
  readonly depth: number;
}

/** What became of one planted mark. */
export interface MarkScore {
  readonly kind: PlantedMark['kind'];
  readonly region: Region;
  readonly profile: string;
  readonly depth: number;
  readonly width: number;
  readonly found: boolean;
  /** |reported| − |planted|; null where it was not found, or has no single depth (ridges and the seam). */
  readonly depthError: number | null;
}

export interface MarksScore {
  readonly planted: readonly MarkScore[];
  /** Reported marks that match nothing, in the truth's foot frame. */
  readonly falseMarks: readonly ReportedMark[];
  readonly reported: number;
}

const SAME_SIGN: { readonly [kind in PlantedMark['kind']]: readonly ReportedMark['kind'][] } = {
  dent: ['dent'],
  bump: ['bump', 'ridge'],
  ridge: ['ridge', 'bump', 'seam'],
  seam: ['seam', 'ridge', 'bump', 'dent'],
};

/** How far a reported centre may lie from a planted finger mark, mm. */
const reachOf = (mark: PlantedMark): number => Math.max(5, 0.5 * mark.width);

/** How far a reported centre may lie from the middle line of a planted ridge or seam, mm. */
const LINE_REACH = 5;

function distanceTo(mark: PlantedMark, p: ArrayLike<number>): number {
  const line = mark.path ?? mark.centre;
  let best = Infinity;
  for (let i = 0; i < line.length; i += 3) best = Math.min(best, Math.hypot(line[i] - p[0], line[i + 1] - p[1], line[i + 2] - p[2]));
  return best;
}

/**
 * Which planted marks were found and which reports are false.
 *
 * - A planted dent is found by a reported dent, a bump by a bump or ridge, whose centre lies within max(5 mm, half the
 *   planted width) of the planted centre. Each report finds one mark, the nearest pairs first.
 * - A planted ridge or seam is found by a ridge, seam, bump (and the seam by a dent: it may be a groove) whose centre lies
 *   within 5 mm of its path.
 * - A further report on a mark that is already found — its centre within the same reach of a line, or within half the
 *   planted length + 3 mm of a finger mark, of any kind — is a piece of it. One piece more than the first is let pass;
 *   every other piece is false.
 * - All other reports are false.
 */
export function scoreMarks(planted: readonly PlantedMark[], reports: readonly ReportedMark[], toTruth: Transform): MarksScore {
  const placed = reports.map((r) => {
    const [x, y, z] = transformPositions(toTruth, Float64Array.from(r.centre));
    return { ...r, centre: [x, y, z] as const };
  });
  const pairs: { mark: number; report: number; share: number }[] = [];
  planted.forEach((mark, m) => placed.forEach((report, r) => {
    if (!SAME_SIGN[mark.kind].includes(report.kind)) return;
    const share = distanceTo(mark, report.centre) / (mark.path ? LINE_REACH : reachOf(mark));
    if (share <= 1) pairs.push({ mark: m, report: r, share });
  }));
  pairs.sort((a, b) => a.share - b.share);
  const foundBy = new Map<number, number>();
  const used = new Set<number>();
  for (const { mark, report } of pairs) {
    if (foundBy.has(mark) || used.has(report)) continue;
    foundBy.set(mark, report);
    used.add(report);
  }
  const pieces = new Map<number, number>();
  const falseMarks = placed.filter((report, r) => {
    if (used.has(r)) return false;
    const owner = planted.findIndex((mark) => distanceTo(mark, report.centre) <= (mark.path ? LINE_REACH : mark.length / 2 + 3));
    if (owner < 0) return true;
    pieces.set(owner, (pieces.get(owner) ?? 0) + 1);
    return (pieces.get(owner) as number) > 1;
  });
  return {
    reported: reports.length,
    falseMarks,
    planted: planted.map((mark, m) => {
      const by = foundBy.get(m);
      return {
        kind: mark.kind, region: mark.region, profile: mark.profile, depth: mark.depth, width: mark.width,
        found: by !== undefined,
        depthError: by === undefined || mark.path ? null : Math.abs(placed[by].depth) - Math.abs(mark.depth),
      };
    }),
  };
}

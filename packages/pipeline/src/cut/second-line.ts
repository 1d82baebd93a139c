import { LINES, SAMPLES, lineIn, heightsRound } from './cross-shapes.js';
import type { CutStation } from './cut-course.js';
import { evidenceAt, evidenceMap } from './cut-course.js';
import type { TopMap } from './top-map.js';
import { ACROSS, TOP_MAP } from './top-map.js';

export const SECOND_LINE = {
  /** Widths of gaps, samples: narrower ones look like a seam. */
  narrowest: 13,
  widest: 42,
  /** What the second line must explain at each station. */
  cost: 5,
  /** What it costs to begin or end the second line, and by each sample that it stands farther off than the narrowest gap. */
  begins: 8,
  beginsWide: 2,
  /** No gap begins wider than this, samples: a cut opens from the toe base. */
  widestBegin: 20,
  ends: 8,
  /** A second line over fewer stations is the foot's own. */
  least: 22,
  /** Samples that the width may change by from one station to the next, and what a sample costs, squared. */
  stray: 3,
  strayCost: 0.35,
} as const;

/**
 * A second line beside a course that shows one line alone: the other edge of a gap that plaster bridged, too faint to be
 * told station by station. It is sought on the sections from which what the first line adds was taken off.
 *
 * @returns for each station of the course how far the second line lies beside it, samples towards +y; 0 where there is none
 */
export function secondLine(map: TopMap, course: readonly CutStation[]): Int32Array {
  const d = SECOND_LINE;
  const samples = new Map(course.map(({ station, sample }) => [station, sample]));
  const evidence = evidenceMap(withoutLine(map, course), (station, j) => {
    const apart = Math.abs(j - (samples.get(station) ?? Infinity));
    return apart >= d.narrowest && apart <= d.widest;
  });
  const wide = 2 * d.widest + 1;
  const none: number = d.widest;
  const gain = (i: number, k: number): number => {
    const apart = k - d.widest;
    if (Math.abs(apart) < d.narrowest) return k === none ? 0 : -Infinity;
    const { station, sample } = course[i];
    const j = sample + apart;
    if (j < 0 || j >= ACROSS) return -Infinity;
    const edge = evidenceAt(evidence, station, j, apart < 0 ? LINES.widestLow : LINES.widestHigh);
    return Math.max(edge, evidenceAt(evidence, station, j, LINES.seam)) - d.cost;
  };
  const beginning = (k: number): number => {
    const apart = Math.abs(k - d.widest);
    return apart > d.widestBegin ? Infinity : d.begins + d.beginsWide * (apart - d.narrowest);
  };
  const from = new Int32Array(course.length * wide);
  let best = Float64Array.from({ length: wide }, (_, k) => gain(0, k) - (k === none ? 0 : beginning(k)));
  for (let i = 1; i < course.length; i++) {
    const next = new Float64Array(wide);
    const shift = course[i].sample - course[i - 1].sample;
    for (let k = 0; k < wide; k++) {
      let most = -Infinity;
      let came = none;
      const ask = (other: number, cost: number): void => {
        if ((best[other] ?? -Infinity) - cost <= most) return;
        most = best[other] - cost;
        came = other;
      };
      if (k === none) {
        ask(none, 0);
        for (let other = 0; other < wide; other++) ask(other, d.ends);
      } else {
        ask(none, beginning(k));
        // The second line strays by itself, whatever the first one does.
        for (let s = -d.stray; s <= d.stray; s++) ask(k + shift + s, d.strayCost * s * s);
      }
      next[k] = most + gain(i, k);
      from[i * wide + k] = came;
    }
    best = next;
  }
  let k = best.indexOf(Math.max(...best));
  const apart = new Int32Array(course.length);
  for (let i = course.length - 1; i >= 0; i--) {
    apart[i] = k === none ? 0 : k - d.widest;
    k = from[i * wide + k];
  }
  if (apart.filter((samples) => samples !== 0).length < d.least) apart.fill(0);
  return apart;
}

/** The map with what the line along the course adds taken off its sections. */
function withoutLine(map: TopMap, course: readonly CutStation[]): TopMap {
  const points = map.points.slice();
  const heights = new Float64Array(SAMPLES);
  for (const { station, sample } of course) {
    if (!heightsRound(map, station, sample, heights)) continue;
    const added = lineIn(heights);
    const normal = normalAt(map, station, sample);
    for (let j = 0; j < ACROSS; j++) {
      const h = added((j - sample) * TOP_MAP.step);
      for (let k = 0; k < 3; k++) points[3 * (station * ACROSS + j) + k] -= h * normal[k];
    }
  }
  return { ...map, points };
}

/** The normal that heights round a sample are measured along. */
function normalAt({ points: p, along }: TopMap, station: number, sample: number): number[] {
  const half = (SAMPLES - 1) / 2;
  const [a, b] = [sample - half, sample + half].map((j) => 3 * (station * ACROSS + j));
  const [tx, ty, tz] = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
  const ax = along[3 * station];
  const az = along[3 * station + 2];
  const n = [ty * az, tz * ax - tx * az, -ty * ax];
  const length = Math.hypot(...n);
  return n.map((c) => c / length);
}

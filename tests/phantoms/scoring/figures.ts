import type { MeasureId } from '@cast-to-last/foot/measures';
import { mean, quantile, share } from '../../support/statistics.js';
import type { CastScore } from './score.js';
import { percentile, pooled, rms } from './score-surface.js';
import type { MarkScore } from './score-marks.js';
import { REGIONS } from '../truth.js';

/** Limits by measure, mm: lengths and widths 0.5, girths 1.0. Heights and the angle carry none. */
const LIMITS: { readonly [id in MeasureId]?: number } = {
  'foot-length': 0.5, 'medial-ball-length': 0.5, 'lateral-ball-length': 0.5, 'ball-width': 0.5, 'foot-breadth': 0.5, 'heel-width': 0.5,
  'ball-girth': 1, 'instep-girth': 1, 'waist-girth': 1, 'short-heel-girth': 1, 'long-heel-girth': 1, 'ankle-girth': 1,
};

const DEEP = 0.8;
const isFinger = (m: MarkScore): boolean => m.kind === 'dent' || m.kind === 'bump';
const counts = (m: MarkScore): boolean => isFinger(m) && Math.abs(m.depth) >= DEEP && m.width >= 8 && m.width <= 28;

/** One row a group: name, found of planted. */
function recallTable(title: string, marks: readonly MarkScore[], groups: readonly { name: string; holds: (m: MarkScore) => boolean }[]): string[] {
  return [`| ${title} | found |`, '|---|---|', ...groups.map(({ name, holds }) => {
    const group = marks.filter(holds);
    return `| ${name} | ${share(group.filter((m) => m.found).length, group.length)} |`;
  })];
}

/** The table "how good", recall by region, depth, width and kind, and the measures, in Markdown. `refused`: seeds that the program turned away. */
export function figuresTable(scores: readonly CastScore[], refused: readonly { seed: number; why: string }[]): string {
  const marks = scores.flatMap((s) => s.marks.planted);
  const counted = marks.filter(counts);
  const falsePerCast = scores.map((s) => s.marks.falseMarks.length);
  const bare = scores.filter((s) => s.marks.planted.length === 0);
  const depthErrors = marks.filter((m) => m.found && m.depthError !== null).map((m) => Math.abs(m.depthError as number));
  const again = scores.filter((s) => s.secondPassMarks !== null).map((s) => s.secondPassMarks as number);
  const [fingers, fingersScanned] = [pooled(scores, (s) => s.surface.fingers), pooled(scores, (s) => s.surface.fingersScanned)];
  const [lines, linesScanned] = [pooled(scores, (s) => s.surface.lines), pooled(scores, (s) => s.surface.linesScanned)];
  const quiet = scores.filter((s) => Math.abs(s.noise - 0.03) < 1e-9);
  const [elsewhere, textured] = [pooled(quiet, (s) => s.surface.elsewhere), pooled(quiet, (s) => s.surface.elsewhereTextured)];
  const everywhere = pooled(scores, (s) => s.surface.elsewhere);
  const frames = scores.map((s) => s.frameRms);
  const outside = counted.filter((m) => m.region !== 'toes');
  const f = (v: number): string => (Number.isFinite(v) ? v.toFixed(3) : '–');
  const out = [
    '| figure | bar | measured |',
    '|---|---|---|',
    `| casts; refused | – | ${scores.length + refused.length}; ${refused.length} |`,
    `| frame against truth, RMS over the surface, mm: median, 95th percentile, worst | 0.5 | ${f(quantile(frames, 0.5))}, ${f(quantile(frames, 0.95))}, ${f(Math.max(...frames))} |`,
    `| orientation within 10° | all | ${share(scores.filter((s) => s.frameAngleDeg < 10).length, scores.length)} |`,
    `| dents and bumps ≥ ${DEEP} mm deep, 8–28 mm wide, found | ≥ 95 % | ${share(counted.filter((m) => m.found).length, counted.length)} |`,
    `| the same without the toes | ≥ 90 % in each region | ${share(outside.filter((m) => m.found).length, outside.length)} |`,
    `| false marks a cast | ≤ 1 | ${f(mean(falsePerCast))} |`,
    `| false marks a cast with no marks at all | ≤ 0.3 | ${bare.length === 0 ? '–' : f(mean(bare.map((s) => s.marks.falseMarks.length)))} (${bare.length} casts) |`,
    `| depth of found marks, mean absolute error, mm | ≤ 0.2 | ${f(mean(depthErrors))} |`,
    `| error left where dents and bumps ≥ ${DEEP} mm were, RMS, mm (as scanned) | ≤ 0.25 | ${f(rms(fingers))} (${f(rms(fingersScanned))}) |`,
    `| error left where ridges and seams were, RMS, mm (as scanned) | – | ${f(rms(lines))} (${f(rms(linesScanned))}) |`,
    `| error elsewhere with 0.03 mm of scan noise (${quiet.length} casts), RMS and 99.5th percentile, mm | ≤ 0.06 and ≤ 0.20 | ${f(rms(elsewhere))} and ${f(percentile(elsewhere, 0.995))} |`,
    `| the same against the clean surface with its texture | – | ${f(rms(textured))} and ${f(percentile(textured, 0.995))} |`,
    `| error elsewhere, all casts | – | ${f(rms(everywhere))} and ${f(percentile(everywhere, 0.995))} |`,
    `| new marks when smoothed again, a cast | ≤ 0.1 | ${again.length === 0 ? '–' : f(mean(again))} (${again.length} casts) |`,
    '',
    ...recallTable('region (dents and bumps as above)', counted, REGIONS.map((name) => ({ name, holds: (m) => m.region === name }))),
    '',
    ...recallTable('depth (all dents and bumps), mm', marks.filter(isFinger), [[0.3, 0.5], [0.5, 0.8], [0.8, 1.2], [1.2, 2], [2, 5.1]].map(([low, high]) => ({
      name: `${low} to ${high}`, holds: (m) => Math.abs(m.depth) >= low && Math.abs(m.depth) < high,
    }))),
    '',
    ...recallTable('width (dents and bumps as above), mm', counted, [[8, 12], [12, 16], [16, 20], [20, 24], [24, 28.1]].map(([low, high]) => ({
      name: `${low} to ${high}`, holds: (m) => m.width >= low && m.width < high,
    }))),
    '',
    ...recallTable('kind (≥ 0.8 mm)', marks.filter((m) => Math.abs(m.depth) >= DEEP), (['dent', 'bump', 'ridge', 'seam'] as const).map((kind) => ({ name: kind, holds: (m) => m.kind === kind }))),
    '',
    ...measuresTable(scores),
  ];
  if (refused.length > 0) out.push('', '| refused seed | why |', '|---|---|', ...refused.map((r) => `| ${r.seed} | ${r.why} |`));
  return out.join('\n');
}

/** A row a measure; the bias holds when both limits of mean ± 1.96·SD/√N lie inside ±2 mm. */
function measuresTable(scores: readonly CastScore[]): string[] {
  const ids = [...new Set(scores.flatMap((s) => s.measures.map((m) => m.id)))];
  const rows = ids.map((id) => {
    const all = scores.flatMap((s) => s.measures.filter((m) => m.id === id));
    const errors = all.filter((m) => m.error !== null).map((m) => m.error as number);
    const missed = all.filter((m) => m.missed).length;
    const surplus = all.filter((m) => m.surplus).length;
    if (errors.length === 0) return `| ${id} | – | – | – | – | ${missed} | ${surplus} |`;
    const bias = mean(errors);
    const sd = errors.length < 2 ? 0 : Math.sqrt(errors.reduce((sum, e) => sum + (e - bias) ** 2, 0) / (errors.length - 1));
    const half = (1.96 * sd) / Math.sqrt(errors.length);
    const limit = LIMITS[id];
    const within = limit === undefined ? '–' : share(errors.filter((e) => Math.abs(e) <= limit).length, errors.length);
    const worst = errors.reduce((w, e) => (Math.abs(e) > Math.abs(w) ? e : w), 0);
    return `| ${id} | ${limit ?? '–'} | ${within} | ${bias.toFixed(3)} (${(bias - half).toFixed(3)} to ${(bias + half).toFixed(3)}) | ${worst.toFixed(2)} | ${missed} | ${surplus} |`;
  });
  return ['| measure | limit | within | bias (95 % limits) | worst | missed | surplus |', '|---|---|---|---|---|---|---|', ...rows];
}

import type { MeasureId } from '@cast-to-last/foot/measures';
import { mean, share } from '../../support/statistics.js';
import { percentile, pooled, rms, type ErrorSums } from '../scoring/score-surface.js';
import type { ShellScore } from './score-shell.js';

/** A cast that the program turned away. */
export interface Refusal {
  readonly seed: number;
  readonly plan: string;
  readonly code: string;
}

/** Limits by measure, mm: lengths and widths 0.5, girths 1.0. */
const LIMITS: { readonly [id in MeasureId]?: number } = {
  'foot-length': 0.5, 'medial-ball-length': 0.5, 'lateral-ball-length': 0.5, 'ball-width': 0.5, 'foot-breadth': 0.5, 'heel-width': 0.5,
  'ball-girth': 1, 'instep-girth': 1, 'waist-girth': 1, 'short-heel-girth': 1, 'long-heel-girth': 1, 'ankle-girth': 1,
};

const CLOSING_BAR = 1.5;

const f = (v: number, digits = 3): string => (Number.isFinite(v) ? v.toFixed(digits) : '–');
const worst = (v: readonly number[]): number => v.reduce((w, e) => (Math.abs(e) > Math.abs(w) ? e : w), 0);

const three = (sums: ErrorSums): string => (sums.count === 0 ? '–' : `${f(rms(sums))}, ${f(percentile(sums, 0.95))}, ${f(percentile(sums, 0.995))}`);

function offsetTable(scores: readonly ShellScore[]): string[] {
  const groups = ['outside, even wall', 'outside, uneven wall', 'outside, layers told'];
  const rows = groups.map((name) => {
    const group = scores.flatMap((s) => (s.plan.name === name && s.offset ? [s.offset] : []));
    if (group.length === 0) return `| ${name} (0) | – | – | – | – | – |`;
    return `| ${name} (${group.length}) | ${three(pooled(group, (s) => s.open))} | ${f(worst(group.map((s) => s.openBias)))} | ${three(pooled(group, (s) => s.webs))} | ${three(pooled(group, (s) => s.websBare))} | ${three(pooled(group, (s) => s.floor))} |`;
  });
  return [
    '| outside scans | away from webs | worst bias of a cast | in webs, against what the outside can tell | in webs, against the inner surface itself | the scanned outside itself |',
    '|---|---|---|---|---|---|', '| bar (even wall) | 0.15 | – | 0.4 | – | – |', ...rows,
  ];
}

function measuresTable(scores: readonly ShellScore[]): string[] {
  const names = [...new Set(scores.filter((s) => s.measures.length > 0 && s.plan.kind !== 'positive').map((s) => s.plan.name)), 'sound'];
  const rows = names.map((name) => {
    const group = scores.filter((s) => s.plan.name === name);
    const all = group.flatMap((s) => s.measures);
    const limited = all.filter((m) => LIMITS[m.id] !== undefined);
    const within = limited.filter((m) => Math.abs(m.error) <= (LIMITS[m.id] as number)).length;
    const covered = limited.filter((m) => Math.abs(m.error) <= m.uncertainty).length;
    const girths = limited.filter((m) => m.id.endsWith('girth')).map((m) => m.error);
    return `| ${name} (${group.length}) | ${share(within, limited.length)} | ${share(covered, limited.length)} | ${girths.length === 0 ? '–' : `${f(mean(girths), 2)}, ${f(worst(girths), 2)}`} | ${group.reduce((n, s) => n + s.missed.length, 0)} |`;
  });
  return ['| measures of sound casts | within 0.5 mm, girths 1.0 mm | within the uncertainty that the program gives | girths: mean error, worst, mm | absent |', '|---|---|---|---|---|', ...rows];
}

function closingTable(scores: readonly ShellScore[]): string[] {
  const rows = ['closing-ball', 'closing-waist', 'closing-instep', 'cut-step'].flatMap((id) => {
    const kinds: [string, (s: ShellScore) => boolean][] = id === 'cut-step'
      ? [['all kinds', () => true]]
      : [['gaping', (s) => s.plan.options.cut === 'gaping'], ['overlapping, two-sided', (s) => s.plan.options.cut === 'overlapping' && s.plan.options.delivered === 'two-sided'], ['without a gap', (s) => !['gaping', 'overlapping'].includes(s.plan.options.cut ?? 'sound')]];
    return kinds.map(([name, holds]) => {
      const readings = scores.filter(holds).flatMap((s) => s.readings.filter((r) => r.id === id));
      const errors = readings.flatMap((r) => (r.value === null ? [] : [r.value - r.truth]));
      const byTape = readings.flatMap((r) => (r.value === null || r.girthChange === null ? [] : [r.value - r.girthChange]));
      const within = (v: readonly number[]): string => share(v.filter((e) => Math.abs(e) <= CLOSING_BAR).length, v.length);
      return `| ${id}, ${name} | ${readings.length} | ${readings.length - errors.length} | ${within(errors)} | ${errors.length === 0 ? '–' : `${f(mean(errors), 2)}, ${f(worst(errors), 2)}`} | ${id === 'cut-step' ? '–' : within(byTape)} |`;
    });
  });
  const hidden = scores.filter((s) => s.plan.options.cut === 'overlapping' && s.plan.options.delivered === 'positive').flatMap((s) => s.readings.filter((r) => r.id !== 'cut-step' && Math.abs(r.truth) >= 1));
  return [
    '| closing error | readings | not readable | within 1.5 mm of the width under the tape (of the step) | error: mean, worst, mm | within 1.5 mm of what the tape grew by |', '|---|---|---|---|---|---|', ...rows, '',
    `Overlapping on positives, where the amount cannot be seen: ${share(hidden.filter((r) => r.value === null).length, hidden.length)} of the readings at tapes with an overlap of 1 mm and more say so.`,
  ];
}

/** All tables, in Markdown. */
export function shellFigures(scores: readonly ShellScore[], refused: readonly Refusal[]): string {
  const mirrored = [...scores.map((s) => s.plan.name), ...refused.map((r) => r.plan)].filter((name) => name === 'inside, mirrored').length;
  const caught = refused.filter((r) => r.plan === 'inside, mirrored' && /side|mirror/.test(r.code)).length;
  const others = refused.filter((r) => r.plan !== 'inside, mirrored');
  const strong = scores.filter((s) => s.strong);
  const sound = scores.filter((s) => (s.plan.options.cut ?? 'sound') === 'sound');
  const walls = scores.filter((s) => s.plan.options.delivered === 'two-sided');
  const weak = scores.filter((s) => s.weak.planted > 0);
  const whole = walls.filter((s) => s.weak.planted === 0);
  const measured = walls.flatMap((s) => (s.wall ? [s.wall.error] : []));
  const thickness = walls.flatMap((s) => (s.thicknessRms === null ? [] : [s.thicknessRms]));
  const seconds = scores.map((s) => s.seconds).sort((a, b) => a - b);
  const out = [
    '| figure | bar | measured |', '|---|---|---|',
    `| casts; refused, mirrored ones aside | – | ${scores.length + refused.length}; ${others.length} |`,
    `| mirrored inside scans caught | all | ${share(caught, mirrored)} |`,
    `| planted errors of the cut 1.5 times over a recast limit, recast asked for | ≥ 95 % | ${share(strong.filter((s) => s.caught).length, strong.length)} |`,
    `| sound cuts with a finding about the cut that asks for a recast | ≤ 3 % | ${share(sound.filter((s) => s.caught).length, sound.length)} |`,
    `| sound cuts with any finding about the cut | – | ${share(sound.filter((s) => s.cutFindings.length > 0).length, sound.length)} |`,
    `| both sides scanned: wall measured | all | ${share(measured.length, walls.length)} |`,
    `| its error against the true mean, mm: mean, worst | – | ${measured.length === 0 ? '–' : `${f(mean(measured))}, ${f(worst(measured))}`} |`,
    `| thickness at single places, RMS by cast, mm: mean, worst | – | ${thickness.length === 0 ? '–' : `${f(mean(thickness))}, ${f(worst(thickness))}`} |`,
    `| thin areas and holes planted, found within 15 mm | – | ${share(weak.reduce((n, s) => n + s.weak.found, 0), weak.reduce((n, s) => n + s.weak.planted, 0))} |`,
    `| casts with weak places told of at all; without, told all the same | – | ${share(weak.filter((s) => s.weak.findings > 0).length, weak.length)}; ${share(whole.filter((s) => s.weak.findings > 0).length, whole.length)} |`,
    `| pipeline up to the verdict, median s a cast | – | ${f(seconds[Math.floor(seconds.length / 2)] ?? NaN, 1)} |`,
    '', 'Errors in mm: root mean square, 95th and 99.5th percentile.', '', ...offsetTable(scores), '', ...measuresTable(scores), '', ...closingTable(scores),
  ];
  if (refused.length > 0) {
    out.push('', '| refused | code | casts |', '|---|---|---|');
    const groups = new Map<string, number>();
    for (const r of refused) groups.set(`${r.plan} | ${r.code}`, (groups.get(`${r.plan} | ${r.code}`) ?? 0) + 1);
    for (const [key, count] of groups) out.push(`| ${key} | ${count} |`);
  }
  return out.join('\n');
}

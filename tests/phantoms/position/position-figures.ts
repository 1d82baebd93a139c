import { quantile, share } from '../../support/statistics.js';
import { READING_IDS, type PositionScore, type ReadingId } from './score-position.js';

/** Bars for the error of a reading, and the unit. */
const BARS: Partial<Record<ReadingId, number>> = { 'forward-lean': 1, 'rear-view': 1, 'sole-bend': 1, 'heel-pitch': 1, 'toe-pitch': 1, 'ball-on-hinge': 2 };
const UNITS: Partial<Record<ReadingId, string>> = { 'ball-on-hinge': 'mm', 'sole-flatness': 'mm', 'beyond-toes': 'mm', 'foot-length': 'mm', 'toe-box': '' };

/** Findings of the shell and its cut. */
const SHELL = /^(closing-|cut-)/;

const number = (v: number): string => (Number.isFinite(v) ? v.toFixed(2) : '–');

/** What is said of one reading over all casts in which it counts. */
function readingRow(scores: readonly PositionScore[], id: ReadingId, where = ''): string {
  const all = scores.filter((s) => s.verdict !== 'refused').flatMap((s) => s.readings.filter((r) => r.id === id && r.counts && r.truth !== null));
  const read = all.filter((r) => r.value !== null && r.value !== undefined);
  const errors = read.map((r) => Math.abs((r.value as number) - (r.truth as number)));
  const signed = read.map((r) => (r.value as number) - (r.truth as number));
  const bar = BARS[id];
  const sure = read.filter((r) => r.uncertainty !== null);
  const held = sure.filter((r) => Math.abs((r.value as number) - (r.truth as number)) <= (r.uncertainty as number));
  const unit = UNITS[id] ?? '°';
  if (errors.length === 0) return `| ${id}${where} | ${all.length} | no reading | | | | | |`;
  return `| ${id}${where}${unit ? `, ${unit}` : ''} | ${all.length} | ${all.length - read.length} | ${number(quantile(signed, 0.5))} | ${number(quantile(errors, 0.5))} | ${number(quantile(errors, 0.95))} | ${bar === undefined ? '–' : `${share(errors.filter((e) => e <= bar).length, errors.length)} ≤ ${bar}`} | ${share(held.length, sure.length)} |`;
}

const codesOf = (scores: readonly PositionScore[]): string => {
  const counts = new Map<string, number>();
  for (const s of scores) for (const c of s.codes) if (s.verdict !== 'recast' || c.severity === 'recast') counts.set(c.code, (counts.get(c.code) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]).map(([code, n]) => (n === 1 ? code : `${code} × ${n}`)).join(', ') || '–';
};

const verdictCounts = (scores: readonly PositionScore[]): string =>
  (['usable', 'usable-with-care', 'recast', 'refused'] as const)
    .map((v) => ({ v, n: scores.filter((s) => s.verdict === v).length }))
    .filter(({ n }) => n > 0)
    .map(({ v, n }) => `${v} ${n}`)
    .join(', ');

/** Figures in Markdown. */
export function positionFigures(scores: readonly PositionScore[], notMade: number): string {
  const sound = scores.filter((s) => s.plan.planted === null);
  const falseRecasts = sound.filter((s) => s.right === false);
  const over = scores.filter((s) => s.plan.planted?.expected.verdict === 'recast' && s.right !== null);
  const careful = scores.filter((s) => s.plan.planted?.expected.verdict === 'care' && s.right !== null);
  const groups = new Map<string, PositionScore[]>();
  for (const s of scores) {
    const { planted } = s.plan;
    const key = planted === null ? `sound, ${s.plan.bed} | –` : `${planted.error} | ${planted.strength}`;
    groups.set(key, [...(groups.get(key) ?? []), s]);
  }
  return [
    '| figure | bar | measured |',
    '|---|---|---|',
    `| casts; refused; not made, because the drawn foot has a tunnel or a tear | – | ${scores.length}; ${scores.filter((s) => s.verdict === 'refused').length}; ${notMade} |`,
    `| planted errors of 1.5 times the limit and more: a new cast for the right reason | ≥ 95 % | ${share(over.filter((s) => s.right).length, over.length)} |`,
    `| sound casts: asked to be cast again, or refused | ≤ 3 % | ${share(falseRecasts.length, sound.length)} |`,
    `| of these, for the closing of the shell alone, which was not planted | – | ${falseRecasts.filter((s) => s.codes.every((c) => c.severity === 'care' || SHELL.test(c.code))).length} |`,
    `| of these, beyond a limit by the reference too | – | ${falseRecasts.filter((s) => s.worst.share > 1).length} |`,
    `| sound casts: usable without care | – | ${share(sound.filter((s) => s.verdict === 'usable').length, sound.length)} |`,
    `| errors between both limits: care for the right reason, no new cast | – | ${share(careful.filter((s) => s.right).length, careful.length)} |`,
    '',
    '| reading | casts | not read | bias | median error | 95th percentile | within the bar | within the stated uncertainty |',
    '|---|---|---|---|---|---|---|---|',
    ...READING_IDS.filter((id) => id !== 'beyond-toes' && id !== 'foot-length').map((id) => readingRow(scores, id)),
    ...(['beyond-toes', 'foot-length'] as const).flatMap((id) => [
      readingRow(scores.filter((s) => s.plan.options.position.fold !== undefined), id, ' with a fold'),
      readingRow(scores.filter((s) => s.plan.options.position.fold === undefined && s.family === 'blunt'), id, ', toes lost in the bandage'),
      readingRow(scores.filter((s) => s.plan.options.position.fold === undefined && s.family !== 'blunt'), id, ', nothing before the toes'),
    ]),
    '',
    '| planted | strength | casts | verdicts | right | codes |',
    '|---|---|---|---|---|---|',
    ...[...groups].map(([key, group]) => {
      const judged = group.filter((s) => s.right !== null);
      return `| ${key} | ${group.length} | ${verdictCounts(group)} | ${judged.filter((s) => s.right).length}/${judged.length} | ${codesOf(group)} |`;
    }),
  ].join('\n');
}

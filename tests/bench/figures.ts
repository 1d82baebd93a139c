import type { TimedCommand, TimedRun } from './time-run.js';
import { median } from './median.js';

/** Every run of one size. */
export interface TimedSize {
  /** Triangles that the file holds. */
  readonly triangles: number;
  readonly runs: readonly TimedRun[];
  readonly bar: Bar | null;
}

/** What the whole command may take. */
export interface Bar {
  readonly seconds: number;
}

/** What any run may take, bytes. */
export const MEMORY_BAR = 1.5e9;

/** The power of the size that a time grows with from one size to a larger one: 1 for n, about 1.08 for n log n. */
const growth = (from: number, to: number, fromSize: number, toSize: number): number => Math.log(to / from) / Math.log(toSize / fromSize);

const thousands = (n: number): string => `${Math.round(n / 1000)}k`;
const seconds = (ms: number): string => (ms / 1000).toFixed(2);
/** Below this a time is mostly the clock's and the scheduler's, and its growth says nothing. */
const TOO_SHORT_MS = 20;

/** The figures in Markdown: a row a stage, a column a size, and how each time grows from size to size. */
export function benchTable(sizes: readonly TimedSize[]): string {
  const steps = sizes.slice(1).map((to, i) => [sizes[i], to] as const);
  const row = (name: string, of: (run: TimedRun) => number, show: (value: number) => string, grows = true): string => {
    const middles = sizes.map(({ runs }) => median(runs.map(of)));
    const powers = steps.map(([from, to], i) =>
      !grows || middles[i] < TOO_SHORT_MS || middles[i + 1] < TOO_SHORT_MS ? '–' : growth(middles[i], middles[i + 1], from.triangles, to.triangles).toFixed(2),
    );
    return `| ${[name, ...middles.map(show), ...powers].join(' | ')} |`;
  };
  const stages = [...sizes[0].runs[0].stages.keys()];
  const head = ['stage, s', ...sizes.map((s) => thousands(s.triangles)), ...steps.map(([from, to]) => `${thousands(from.triangles)} → ${thousands(to.triangles)}`)];
  return [
    `| ${head.join(' | ')} |`,
    `|${'---|'.repeat(head.length)}`,
    ...stages.map((name) => row(name, (run) => run.stages.get(name) ?? NaN, seconds)),
    row('**in all**', (run) => run.wallMs, seconds),
    `| bar | ${[...sizes.map((s) => (s.bar === null ? '–' : `≤ ${s.bar.seconds}`)), ...steps.map(() => '≤ n log n')].join(' | ')} |`,
    row('processor time, all threads', (run) => run.cpuMs, seconds),
    row('peak memory, GB', (run) => run.peakBytes, (bytes) => (bytes / 1e9).toFixed(2), false),
    `| bar | ${[...sizes.map(() => `≤ ${MEMORY_BAR / 1e9}`), ...steps.map(() => '–')].join(' | ')} |`,
  ].join('\n');
}

/** What the bars ask for and these figures do not give, in words. */
export function missedBars(sizes: readonly TimedSize[]): string[] {
  return sizes.flatMap(({ triangles, runs, bar }) => {
    const wall = median(runs.map((r) => r.wallMs)) / 1000;
    const peak = Math.max(...runs.map((r) => r.peakBytes));
    return [
      ...(bar !== null && wall > bar.seconds ? [`${thousands(triangles)}: ${wall.toFixed(2)} s, bar ${bar.seconds} s`] : []),
      ...(peak > MEMORY_BAR ? [`${thousands(triangles)}: ${(peak / 1e9).toFixed(2)} GB, bar ${MEMORY_BAR / 1e9} GB`] : []),
    ];
  });
}

/** What everything that the rules can make of a last may add to the time of the whole command, on the wall and of processors, seconds. */
export const EVERYTHING_BAR = 3;

/** One cast by the default rules and by every rule of a last, run in turns, and what `make` then takes for print and milling files. */
export interface TimedLast {
  /** Triangles that the file holds. */
  readonly triangles: number;
  readonly plain: readonly TimedRun[];
  readonly everything: readonly TimedRun[];
  readonly made: readonly TimedCommand[];
}

const building = (run: TimedRun): number => run.stages.get('build-last') ?? NaN;
const wall = (run: TimedCommand): number => run.wallMs;
const cpu = (run: TimedCommand): number => run.cpuMs;
const medianOf = <T>(runs: readonly T[], of: (run: T) => number): number => median(runs.map(of));

/** The figures of the last in Markdown. */
export function lastTable({ plain, everything, made }: TimedLast): string {
  const row = (name: string, of: (run: TimedRun) => number, bar: string): string => {
    const a = medianOf(plain, of);
    const b = medianOf(everything, of);
    return `| ${[name, seconds(a), seconds(b), seconds(b - a), bar].join(' | ')} |`;
  };
  return [
    '| s | default rules | every rule of a last | more | bar |',
    '|---|---|---|---|---|',
    row('build-last', building, '–'),
    row('the whole command', wall, `≤ ${EVERYTHING_BAR}`),
    row('processor time, all threads', cpu, `≤ ${EVERYTHING_BAR}`),
    `| \`make\`: the last again, hollow print files split by a wedge, the blank | – | ${seconds(medianOf(made, wall))} | – | – |`,
    `| processor time of that | – | ${seconds(medianOf(made, cpu))} | – | – |`,
  ].join('\n');
}

/** What the bar of the last asks for and these figures do not give, in words. */
export function missedLastBars({ triangles, plain, everything }: TimedLast): string[] {
  const more = [['on the wall', wall], ['of processor time', cpu]] as const;
  return more.flatMap(([name, of]) => {
    const by = (medianOf(everything, of) - medianOf(plain, of)) / 1000;
    return by > EVERYTHING_BAR ? [`every rule of a last at ${thousands(triangles)}: ${by.toFixed(2)} s more ${name}, bar ${EVERYTHING_BAR} s`] : [];
  });
}

/**
 * Times the whole command by stage, each size in processes of its own, and prints the figures in Markdown.
 *
 *   npm run bench -- [--sizes 60000,250000,500000,1000000] [--runs 3] [--write]
 *
 * --runs is for sizes below a million triangles (the median counts), larger ones run once; --write also writes
 * tests/bench/FIGURES.md. The casts are phantoms, made at the first run and kept in the system's temporary folder.
 */
import { writeFileSync } from 'node:fs';
import { cpus, loadavg, totalmem } from 'node:os';
import { parseArgs } from 'node:util';
import { benchCast } from './bench-cast.js';
import type { Bar, TimedSize } from './figures.js';
import { benchTable, missedBars } from './figures.js';
import { timeRun } from './time-run.js';

const BARS: Readonly<Record<number, Bar>> = { 250_000: { seconds: 3.5 }, 1_000_000: { seconds: 14 } };
const ONE_RUN_FROM = 1_000_000;

const { values } = parseArgs({
  options: { sizes: { type: 'string', default: '60000,250000,500000,1000000' }, runs: { type: 'string', default: '3' }, write: { type: 'boolean', default: false } },
});
const whole = (text: string, name: string): number => {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1) throw new Error(`--${name} must hold whole numbers above 0`);
  return n;
};
const wanted = values.sizes.split(',').map((text) => whole(text, 'sizes'));
const repeats = whole(values.runs, 'runs');
const casts = wanted.map(benchCast);

const loadBefore = loadavg()[0];
const sizes: TimedSize[] = [];
for (const [i, cast] of casts.entries()) {
  const runs = [];
  for (let n = wanted[i] >= ONE_RUN_FROM ? 1 : repeats; n > 0; n--) {
    const run = await timeRun(cast);
    process.stderr.write(`${cast.triangles} triangles: ${(run.wallMs / 1000).toFixed(2)} s, ${(run.peakBytes / 1e9).toFixed(2)} GB\n`);
    runs.push(run);
  }
  sizes.push({ triangles: cast.triangles, runs, bar: BARS[wanted[i]] ?? null });
}

const table = benchTable(sizes);
const missed = missedBars(sizes);
const verdict = missed.length === 0 ? 'Every bar holds.' : `Missed: ${missed.join('; ')}.`;
process.stdout.write(`${table}\n\n${verdict}\n`);
if (values.write) {
  const text = [
    '# How fast',
    '',
    `Measured ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, ${(totalmem() / 1e9).toFixed(0)} GB, by \`npm run bench -- --write\`; load of the machine before and after: ${loadBefore.toFixed(1)}, ${loadavg()[0].toFixed(1)} (the runs alone make 1 to 1.5; with more, other work ran beside them and the times are too long).`,
    '',
    `The whole command from the start of its process to its end, with all seven files, on phantoms with marks, holes and debris; binary STL. Median of ${repeats} runs below a million triangles, one run from there on. The stages run on one thread, the files of surfaces are made on another from the end of measure on; processor time also counts the engine's own threads (compilation, garbage collection). The last columns give the power of the number of triangles that a time grows with: 1 for n, about 1.08 for n log n.`,
    '',
    table,
    '',
    verdict,
    '',
  ].join('\n');
  writeFileSync(new URL('./FIGURES.md', import.meta.url), text);
}

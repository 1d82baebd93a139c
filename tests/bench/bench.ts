/**
 * Times the whole command by stage, each size in processes of its own, and prints the figures in Markdown.
 *
 *   npm run bench -- [--sizes 60000,250000,500000,1000000,2000000] [--runs 3] [--only last] [--write]
 *
 * The cast of 250,000 triangles also runs by every rule of a last, in turns with the default rules; --only last runs this alone.
 * --runs is for sizes below a million triangles (the median counts), larger ones run once; --write also writes
 * tests/bench/FIGURES.md. The casts are phantoms, made at the first run and kept in the system's temporary folder.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { benchCast } from './bench-cast.js';
import { EVERY_RULE } from './every-rule.js';
import type { Bar, TimedLast, TimedSize } from './figures.js';
import { benchTable, lastTable, missedBars, missedLastBars } from './figures.js';
import type { TimedCommand, TimedRun } from './time-run.js';
import { timeMake, timeRun } from './time-run.js';

const BARS: Readonly<Record<number, Bar>> = { 250_000: { seconds: 3.5 }, 1_000_000: { seconds: 14 } };
const ONE_RUN_FROM = 1_000_000;
const LAST_SIZE = 250_000;

const { values } = parseArgs({
  options: { sizes: { type: 'string', default: '60000,250000,500000,1000000,2000000' }, runs: { type: 'string', default: '3' }, only: { type: 'string' }, write: { type: 'boolean', default: false } },
});
const whole = (text: string, name: string): number => {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1) throw new Error(`--${name} must hold whole numbers above 0`);
  return n;
};
if (values.only !== undefined && values.only !== 'last') throw new Error('--only takes: last');
const wanted = values.only === 'last' ? [] : values.sizes.split(',').map((text) => whole(text, 'sizes'));
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

const last = await timeLast(repeats);
const tables = [...(sizes.length === 0 ? [] : [benchTable(sizes)]), lastTable(last)];
const missed = [...missedBars(sizes), ...missedLastBars(last)];
const verdict = missed.length === 0 ? 'Every bar holds.' : `Missed: ${missed.join('; ')}.`;
process.stdout.write(`${tables.join('\n\n')}\n\n${verdict}\n`);
if (values.write && sizes.length > 0) {
  const text = [
    '# How fast',
    '',
    `Measured ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, ${(totalmem() / 1e9).toFixed(0)} GB, by \`npm run bench -- --write\`; load of the machine before and after: ${loadBefore.toFixed(1)}, ${loadavg()[0].toFixed(1)} (the runs alone make 1 to 1.5; with more, other work ran beside them and the times are too long).`,
    '',
    `The whole command from the start of its process to its end, with all seven files, on phantoms with marks, holes and debris; binary STL. Median of ${repeats} runs below a million triangles, one run from there on. The stages run on one thread, the files of surfaces are made on another from the end of measure on; processor time also counts the engine's own threads (compilation, garbage collection). The last columns give the power of the number of triangles that a time grows with: 1 for n, about 1.08 for n log n.`,
    '',
    tables[0],
    '',
    `Everything that the rules can make of a last at once (tests/bench/every-rule.ts) on the cast of ${Math.round(last.triangles / 1000)}k triangles, in turns with the default rules, ${repeats} runs each, medians:`,
    '',
    tables[1],
    '',
    verdict,
    '',
  ].join('\n');
  writeFileSync(new URL('./FIGURES.md', import.meta.url), text);
}

/** One cast by the default rules and by every rule, in turns: what else the machine does falls on both alike. */
async function timeLast(runs: number): Promise<TimedLast> {
  const cast = benchCast(LAST_SIZE);
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-bench-rules-'));
  try {
    const path = join(folder, 'rules.json');
    writeFileSync(path, JSON.stringify(EVERY_RULE));
    const rules = ['--rules', path];
    const plain: TimedRun[] = [];
    const everything: TimedRun[] = [];
    const made: TimedCommand[] = [];
    for (let n = 0; n < runs; n++) {
      plain.push(await timeRun(cast));
      everything.push(await timeRun(cast, rules));
      made.push(await timeMake(cast, rules));
      const [a, b, c] = [plain, everything, made].map((all) => (all[n].wallMs / 1000).toFixed(2));
      process.stderr.write(`last of ${cast.triangles} triangles: ${a} s, by every rule ${b} s, make ${c} s\n`);
    }
    return { triangles: cast.triangles, plain, everything, made };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

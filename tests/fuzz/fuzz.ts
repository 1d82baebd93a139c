/**
 * Tries damaged input on everything that takes files, for as long as is asked for. What breaks is kept in
 * tests/fuzz/corpus/, which every run of the tests takes again; what was tried is added to tests/fuzz/RUNS.md with --write.
 *
 *   npm run fuzz -- [--minutes 10] [--seed 1] [--only mesh-file,cast] [--write]
 */
import { appendFileSync, existsSync, writeFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { parseArgs } from 'node:util';
import { rng } from '../support/rng.js';
import { TARGETS } from './targets.js';
import { tryBytes } from './try-bytes.js';

const { values } = parseArgs({ options: { minutes: { type: 'string', default: '10' }, seed: { type: 'string', default: '1' }, only: { type: 'string' }, write: { type: 'boolean', default: false } } });
const minutes = Number(values.minutes);
const firstSeed = Number(values.seed);
if (!(minutes > 0) || !Number.isInteger(firstSeed)) throw new Error('--minutes must be above 0 and --seed a whole number');
const targets = TARGETS.filter(({ name }) => values.only === undefined || values.only.split(',').includes(name));
if (targets.length === 0) throw new Error(`--only names none of ${TARGETS.map(({ name }) => name).join(', ')}`);

const CORPUS = new URL('./corpus/', import.meta.url);
const RUNS = new URL('./RUNS.md', import.meta.url);
const tried = new Map(targets.map(({ name }) => [name, { copies: 0, finds: 0, slowestMs: 0 }]));
/** Of one target: what comes after is mostly the same again. */
const MOST_FINDS = 10;
const share = (minutes * 60_000) / targets.length;
for (const target of targets) {
  const told = tried.get(target.name) as { copies: number; finds: number; slowestMs: number };
  // What it opens for the first copy is not of its share.
  await target.make(rng(firstSeed));
  const end = Date.now() + share;
  for (let seed = firstSeed; Date.now() < end && told.finds < MOST_FINDS; seed++) {
    const bytes = await target.make(rng(seed));
    const { fault, ms } = await tryBytes(target, bytes);
    told.copies++;
    told.slowestMs = Math.max(told.slowestMs, ms);
    if (fault === null) continue;
    told.finds++;
    const name = `${target.name}-${createHash('sha256').update(bytes).digest('hex').slice(0, 12)}.bin`;
    writeFileSync(new URL(name, CORPUS), bytes);
    process.stderr.write(`${target.name}, seed ${seed}: ${fault}; kept as corpus/${name}\n`);
  }
  await target.end?.();
}
const rows = [...tried].map(([name, { copies, finds, slowestMs }]) => `| ${new Date().toISOString().slice(0, 10)} | ${name} | ${firstSeed} | ${copies} | ${finds} | ${slowestMs.toFixed(0)} |`);
process.stdout.write(`${rows.join('\n')}\n`);
if (values.write) {
  if (!existsSync(RUNS)) writeFileSync(RUNS, '# Runs with damaged input\n\nBy `npm run fuzz -- --write`. Seeds count up from the first by one a copy. What broke stays in corpus/ and is tried by every run of the tests.\n\n| date | target | first seed | copies | finds | slowest, ms |\n|---|---|---|---|---|---|\n');
  appendFileSync(RUNS, `${rows.join('\n')}\n`);
}

/**
 * Times the service as a workshop uses it, each part in processes of its own, and prints the figures in Markdown.
 *
 *   npm run bench:service -- [--triangles 250000] [--runs 5] [--only overhead,preview,workers,memory,list,queue,batch] [--write]
 *
 * --write also writes tests/bench/service/FIGURES.md. PostgreSQL and Redis are started where a part needs them.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, totalmem } from 'node:os';
import { parseArgs } from 'node:util';
import { startPostgres } from '../../support/postgres-server.js';
import { startRedis } from '../../support/redis-server.js';
import { benchCast } from '../bench-cast.js';
import { measureBatch } from './measure-batch.js';
import { measureList } from './measure-list.js';
import { measureMemory } from './measure-memory.js';
import { measureOverhead } from './measure-overhead.js';
import { measurePreview } from './measure-preview.js';
import { measureQueue } from './measure-queue.js';
import { measureWorkers } from './measure-workers.js';

/** One figure beside what is asked of it. */
export interface Figure {
  readonly what: string;
  readonly bar: string;
  readonly measured: string;
  readonly holds: boolean;
}

const PARTS = ['overhead', 'preview', 'workers', 'memory', 'list', 'queue', 'batch'] as const;

const { values } = parseArgs({
  options: { triangles: { type: 'string', default: '250000' }, runs: { type: 'string', default: '5' }, only: { type: 'string', default: PARTS.join(',') }, write: { type: 'boolean', default: false } },
});
const wanted = values.only.split(',');
const cast = benchCast(Number(values.triangles));
const runs = Number(values.runs);
const stl = readFileSync(cast.path);
const [postgres, redis] = [await startPostgres(), await startRedis()];
const servers = async () => ({ DATABASE_URL: await postgres.newDatabase(), REDIS_URL: redis.url });
const load = (): string => loadavg()[0].toFixed(1);
const loads: string[] = [];
const figures: (Figure & { readonly load: string })[] = [];

const measure = {
  overhead: () => measureOverhead(cast, stl, runs),
  preview: () => measurePreview(cast, stl, runs),
  workers: () => measureWorkers(cast, stl, servers),
  memory: () => measureMemory(servers),
  list: () => measureList(servers),
  queue: () => measureQueue(servers),
  batch: () => measureBatch(servers),
} satisfies Record<(typeof PARTS)[number], () => Promise<readonly Figure[]>>;

try {
  for (const part of PARTS) {
    if (!wanted.includes(part)) continue;
    const before = load();
    const found = await measure[part]();
    loads.push(before);
    for (const figure of found) {
      figures.push({ ...figure, load: `${before} to ${load()}` });
      process.stderr.write(`${figure.what}: ${figure.measured} (${figure.bar})\n`);
    }
  }
} finally {
  postgres.stop();
  await redis.stop();
}

const table = ['| figure | bar | measured | holds | load of the machine |', '|---|---|---|---|---|', ...figures.map(({ what, bar, measured, holds, load: at }) => `| ${what} | ${bar} | ${measured} | ${holds ? 'yes' : 'no'} | ${at} |`)].join('\n');
process.stdout.write(`${table}\n`);
if (values.write) {
  writeFileSync(new URL('./FIGURES.md', import.meta.url), [
    '# How fast the service is', '',
    `Measured ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, ${(totalmem() / 1e9).toFixed(0)} GB, by \`npm run bench:service -- --write\`, a cast of ${cast.triangles} triangles. The load is that of the whole machine before and after each part; where it is more than about 2, other work ran beside it and times are too long.`, '',
    table, '',
  ].join('\n'));
}

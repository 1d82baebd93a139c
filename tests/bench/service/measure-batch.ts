import { randomUUID } from 'node:crypto';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { eq } from 'drizzle-orm';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { readConfig } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import { casts, orders, revisions, scans } from '@cast-to-last/runtime/records/schema';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { benchCast } from '../bench-cast.js';
import type { Figure } from './bench.js';
import { median } from '../median.js';
import { another, bookIn, memoryOf, startService, startWorker, uploadParts } from './running-service.js';
import type { RunningProgram, RunningService } from './running-service.js';

const BY = { kind: 'program', id: null } as const;
const CASTS = 1000;
/** Scans that differ; the other casts bear one of these each, so that stages come from the cache as in a batch under a rule that few stages read. */
const SCANS = 20;
const TRIANGLES = 12_000;
const LOOK_MS = 1000;

interface Look { readonly done: number; readonly mb: readonly number[] }

/** A batch of 1,000 casts with small meshes under a changed rule of the last, two workers: whether anything keeps memory. */
export async function measureBatch(servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const env = await servers();
  const service = await startService({ ...env, WORK: 'none' });
  const workers: RunningProgram[] = [];
  try {
    for (let n = 0; n < 2; n++) workers.push(startWorker({ ...env, CAST_DATA_FOLDER: service.dataFolder, DRAIN_S: '0' }));
    const cast = benchCast(TRIANGLES);
    const stl = readFileSync(cast.path);
    for (let n = 0; n < SCANS; n++) await service.say('POST', `/uploads/${await uploadParts(service, await bookIn(service, `B-${n}`, cast.side), another(stl, n))}/finish`, {});
    while ((await service.say('GET', '/jobs?state=waiting,running')).items.length > 0) await wait(100);
    const rulesId = await putCasts({ ...env, CAST_DATA_FOLDER: service.dataFolder, WORK: 'none', LOG_LEVEL: 'error' });
    const before = diskOf(service);
    const start = performance.now();
    const looks = await runBatch(service, rulesId, [service, ...workers]);
    const seconds = (performance.now() - start) / 1000;
    const disk = (diskOf(service) - before) / CASTS;
    return [
      ...['the service', 'the first worker', 'the second worker'].map((name, i) => growth(`memory of ${name} over a batch of 1,000 casts`, looks.map(({ done, mb }) => ({ done, mb: mb[i] })))),
      { what: `the batch of 1,000 casts of ${cast.triangles} triangles, ${SCANS} scans`, bar: '–', measured: `${seconds.toFixed(0)} s with two workers, ${(CASTS / seconds).toFixed(1)} a second; ${disk.toFixed(2)} MB on disk a cast`, holds: true },
    ];
  } finally {
    await Promise.all(workers.map((worker) => worker.stop()));
    await service.stop();
  }
}

/** Books in the other casts, each with the scan and the result of one that was made; the id of rules under which the batch shall run. */
async function putCasts(env: Readonly<Record<string, string>>): Promise<string> {
  const config = readConfig(env);
  const { records, close } = await openRuntime(config, openLog(config, 'bench'));
  const made = await records.db.select({ revision: revisions, cast: casts, scan: scans, order: orders }).from(revisions)
    .innerJoin(casts, eq(casts.id, revisions.castId)).innerJoin(scans, eq(scans.id, revisions.scanId)).innerJoin(orders, eq(orders.id, casts.orderId)).where(eq(revisions.state, 'done'));
  if (made.length !== SCANS) throw new Error(`${made.length} of ${SCANS} casts were made.`);
  const rulesId = randomUUID();
  const content = parseRules({ last: { topHeightMm: 85 } });
  await records.change(BY, 'bench', { table: 'rule_sets', id: rulesId }, (draft) => draft.put('rule_sets', { id: rulesId, name: 'bench', number: 1, content, sha256: jsonSha256(content) }));
  for (let from = SCANS; from < CASTS; from += 70) {
    await records.change(BY, 'bench', { table: 'rule_sets', id: rulesId }, async (draft) => {
      for (let n = from; n < Math.min(CASTS, from + 70); n++) {
        const { revision, cast, scan } = made[n % SCANS];
        const [orderId, castId, scanId, id] = [randomUUID(), randomUUID(), randomUUID(), randomUUID()];
        await draft.put('orders', { id: orderId, number: `B-${n}`, state: 'open', content: { orderNumber: `B-${n}` } });
        await draft.put('casts', { ...cast, id: castId, orderId, currentRevisionId: id });
        await draft.put('scans', { ...scan, id: scanId, castId });
        await draft.put('revisions', { ...revision, id, castId, scanId });
      }
    });
  }
  await close();
  return rulesId;
}

/** Runs the batch to its end; how much memory each program held, and how many candidates were made by then. */
async function runBatch(service: RunningService, rulesId: string, programs: readonly RunningProgram[]): Promise<Look[]> {
  const { id } = await service.say('POST', '/batches', { name: 'bench', rulesId, filter: {} });
  const looks: Look[] = [];
  for (;;) {
    const { state, counts } = await service.say('GET', `/batches/${id}`);
    looks.push({ done: counts.done + counts.failed, mb: programs.map(({ pid }) => memoryOf(pid).now) });
    if (state === 'ended') {
      if (counts.done !== CASTS) throw new Error(`${counts.done} of ${CASTS} candidates were made.`);
      return looks;
    }
    await wait(LOOK_MS);
  }
}

/** Memory by tenths of the batch: that of the last three tenths against that of the second to the fourth, when all is warm. */
function growth(what: string, looks: readonly { readonly done: number; readonly mb: number }[]): Figure {
  const between = (from: number, to: number): number => Math.round(median(looks.filter(({ done }) => done >= from * CASTS && done <= to * CASTS).map(({ mb }) => mb)));
  const [early, middle, late] = [between(0.1, 0.4), between(0.4, 0.7), between(0.7, 1)];
  return { what, bar: 'flat: at most 10 % more', measured: `${early}, ${middle} and ${late} MB (medians from 10, 40 and 70 % on), most ${Math.max(...looks.map(({ mb }) => mb))} MB`, holds: late <= 1.1 * early };
}

/** MB in the folder of a service. */
const diskOf = ({ dataFolder }: RunningService): number => Number(spawnSync('du', ['-sm', dataFolder], { encoding: 'utf8' }).stdout.split('\t')[0]);

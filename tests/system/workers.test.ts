import { createReadStream } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { eq } from 'drizzle-orm';
import { describe, expect, it, onTestFinished } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { readConfig } from '@cast-to-last/runtime/config';
import { audit, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { bothServers } from '../support/both-servers.js';
import { ellipsoid } from '../support/ellipsoid.js';
import { lighterScan } from '../support/lighter-scan.js';
import { startProgram } from '../support/program.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRules, putScan } from '../support/workshop-records.js';

const WORKER = fileURLToPath(new URL('../../workers/cast-worker/dist/main.js', import.meta.url));
const sample = async (name: string) => createReadStream(await lighterScan(name));

const servers = bothServers();

describe('cast-workers', () => {
  it('lose nothing and make nothing twice when one of them, and then the queue, is killed in the middle', async () => {
    const env = {
      CAST_DATA_FOLDER: temporaryFolder(), DATABASE_URL: await servers().postgres.newDatabase(), REDIS_URL: servers().redis.url,
      LOG_LEVEL: 'error', JOB_LEASE_S: '2', RECONCILE_S: '1', DRAIN_S: '60',
    };
    const service = await openRuntime(readConfig({ ...env, WORK: 'none' }), QUIET);
    onTestFinished(() => service.close());
    const { records, artifacts, jobs } = service;
    const workers = [startProgram(WORKER, [], env), startProgram(WORKER, [], env)];

    const rules = await putRules(records);
    const asked: string[] = [];
    for (const [name, side] of [['2041-left', 'left'], ['2041-right', 'right'], ['2043-left', 'left'], ['2044-left', 'left']] as const) {
      const scan = await putScan(records, await artifacts.add(await sample(name)), side);
      const { id } = await records.change(MAKER, 'revision.asked', { table: 'casts', id: scan.castId }, (draft) =>
        requestRevision(draft, jobs, { ...scan, ruleSetId: rules.id, decisionsId: null, origin: 'person' }));
      asked.push(id);
    }
    const running = async () => records.db.select().from(jobRows).where(eq(jobRows.state, 'running'));
    const byWorker = async (pid: number) => (await running()).find((job) => job.worker?.includes(`-${pid}-`) && job.progress !== null);
    while ((await byWorker(workers[0].pid)) === undefined) await wait(20);
    const torn = (await byWorker(workers[0].pid))!;
    await workers[0].kill();
    await servers().redis.kill();
    await servers().redis.startAgain();

    const rows = async () => records.db.select().from(revisions);
    while ((await rows()).some(({ state }) => state === 'waiting')) await wait(50);
    const made = await rows();
    expect(made.map(({ state }) => state)).toEqual(['done', 'done', 'done', 'done']);
    expect(made.find(({ id }) => id === torn.subjectId)?.story).toMatchObject([{ what: 'lease-ran-out', worker: torn.worker }]);
    for (const { files } of made) for (const { sha256, size } of files) expect((await artifacts.bytes(sha256)).length).toBe(size);
    const ends = (await records.db.select().from(audit).where(eq(audit.kind, 'revision.ended'))).map(({ subjectId }) => subjectId);
    expect(ends.sort()).toEqual(asked.sort());
    expect(await jobs.counts()).toMatchObject({ done: 4, waiting: 0, running: 0 });
    expect((await records.verify()).brokenAt).toBeNull();
    expect(await workers[1].stop()).toBe(0);
  }, 300_000);

  it('set aside a cast that takes too much memory, with its story, and go on with the next', async () => {
    const env = {
      CAST_DATA_FOLDER: temporaryFolder(), DATABASE_URL: await servers().postgres.newDatabase(), REDIS_URL: servers().redis.url, LOG_LEVEL: 'error', RECONCILE_S: '1', JOB_MEMORY_MB: '300',
    };
    const service = await openRuntime(readConfig({ ...env, WORK: 'none' }), QUIET);
    onTestFinished(() => service.close());
    const { records, artifacts, jobs } = service;
    const rules = await putRules(records);
    const ask = async (scan: { castId: string; scanId: string }) =>
      (await records.change(MAKER, 'revision.asked', { table: 'casts', id: scan.castId }, (draft) =>
        requestRevision(draft, jobs, { ...scan, ruleSetId: rules.id, decisionsId: null, origin: 'person' }))).id;
    const poison = await ask(await putScan(records, await artifacts.add(writeStl(ellipsoid([130, 48, 60], [0, 0, 0], 8)))));
    const sound = await ask(await putScan(records, await artifacts.add(await sample('2044-left'))));
    const worker = startProgram(WORKER, [], env);
    const rowOf = async (id: string) => (await records.db.select().from(revisions).where(eq(revisions.id, id)))[0];
    while ((await rowOf(poison)).state === 'waiting' || (await rowOf(sound)).state === 'waiting') await wait(50);
    expect(await rowOf(sound)).toMatchObject({ state: 'done', story: [] });
    expect(await rowOf(poison)).toMatchObject({ state: 'set-aside', story: [{ what: 'out-of-memory', text: 'It took more than 300 MB.' }, { what: 'out-of-memory' }] });
    expect(await worker.stop()).toBe(0);
  }, 300_000);

  it('say every setting that cannot be used, and end', async () => {
    const worker = startProgram(WORKER, [], { WORK_THREADS: 'many', JOB_LEASE_S: '0' });
    await expect(worker.line(() => true)).rejects.toThrow(/WORK_THREADS .*\n.*JOB_LEASE_S/s);
    await expect(startProgram(WORKER, [], {}).line(() => true)).rejects.toThrow(/REDIS_URL is missing/);
  });
});

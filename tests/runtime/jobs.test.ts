import { setTimeout as wait } from 'node:timers/promises';
import { and, eq, gt } from 'drizzle-orm';
import { describe, expect, it, onTestFinished } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { openBullRunner } from '@cast-to-last/runtime/jobs/bull-runner';
import { PRIORITY } from '@cast-to-last/runtime/jobs/limits';
import { WorkerDied } from '@cast-to-last/runtime/jobs/runner';
import { headOf } from '@cast-to-last/runtime/records/changes/catch-up';
import { audit } from '@cast-to-last/runtime/records/schema';
import { bothServers } from '../support/both-servers.js';
import { LEASE_MS, openJobService } from '../support/job-service.js';
import type { JobService } from '../support/job-service.js';
import { QUIET } from '../support/quiet-log.js';
import { MAKER } from '../support/workshop-records.js';
import { startRedis } from '../support/redis-server.js';

const servers = bothServers();

const service = (database: string, runner: string): Promise<JobService> => openJobService(database, runner, servers);

const names = (length: number, prefix = 's'): string[] => Array.from({ length }, (_, i) => `${prefix}-${String(i).padStart(3, '0')}`);

describe.each([
  // The settings refuse a queue over the database in the folder, which serves one process.
  ['in this process', 'the data folder'], ['in this process', 'a server'], ['by BullMQ', 'a server'],
])('jobs run %s over records in %s', (runner, database) => {
  it('end once each, with their result in one change', async () => {
    const { enqueue, run, reach, ended, records } = await service(database, runner);
    const head = await headOf(records.db);
    const before = await Promise.all(names(5).map((name) => enqueue(name)));
    await run(async (job) => job.subjectId.toUpperCase(), { slots: 2 });
    const after = await Promise.all(names(5, 't').map((name) => enqueue(name)));
    await reach([...before, ...after], 'done');
    expect(ended.map(({ subject, end }) => [subject, end]).sort()).toEqual(
      [...names(5), ...names(5, 't')].map((name) => [name, { state: 'done', result: name.toUpperCase() }]),
    );
    const changes = await records.db.select().from(audit).where(and(eq(audit.kind, 'revision.ended'), gt(audit.seq, head.seq)));
    expect(changes).toHaveLength(10);
    expect(changes.every((entry) => entry.actorKind === 'program' && JSON.parse(entry.content).rows[0].put.name === 'done')).toBe(true);
  });

  it('try again after a fault, a little later each time, and not for ever; never after a refusal', async () => {
    const { enqueue, run, reach, row, ended } = await service(database, runner);
    const tries: Record<string, number> = {};
    const [mends, never, refused] = await Promise.all(['mends', 'never', 'refused'].map((name) => enqueue(name)));
    await run(async ({ subjectId }) => {
      tries[subjectId] = (tries[subjectId] ?? 0) + 1;
      if (subjectId === 'refused') throw new CastError('flat-surface', 'It is flat.', 'Scan the cast.');
      if (subjectId === 'never' || tries[subjectId] < 3) throw new Error('the disk is full');
      return 'mended';
    });
    await reach([mends], 'done');
    await reach([never], 'failed');
    await reach([refused], 'refused');
    expect(tries).toEqual({ mends: 3, never: 3, refused: 1 });
    const { story, fault, attempts } = await row(never);
    expect([story.map((line) => line.what), attempts]).toEqual([['fault', 'fault', 'fault'], 3]);
    expect(fault).toContain('the disk is full');
    const at = story.map((line) => Date.parse(line.at));
    expect(at[1] - at[0]).toBeGreaterThanOrEqual(40);
    expect(at[2] - at[1]).toBeGreaterThanOrEqual(80);
    expect(ended.find(({ subject }) => subject === 'refused')?.end).toEqual({ state: 'refused', refusal: { code: 'flat-surface', message: 'It is flat. Scan the cast.', remedy: 'Scan the cast.' } });
  });

  it('set aside with its story what kills its worker twice, and go on with the others', async () => {
    const { enqueue, run, reach, row } = await service(database, runner);
    const [poison, sound] = [await enqueue('poison'), await enqueue('sound')];
    await run(async ({ subjectId }, { progress }) => {
      progress({ stage: 'repair', done: 1, of: 9 });
      if (subjectId === 'poison') throw new WorkerDied('out-of-memory', 'It took more than 1536 MB.');
      return null;
    });
    await reach([poison], 'set-aside');
    await reach([sound], 'done');
    expect((await row(poison)).story).toMatchObject([
      { what: 'out-of-memory', worker: 'worker-1', stage: 'repair', text: 'It took more than 1536 MB.' }, { what: 'out-of-memory', stage: 'repair' },
    ]);
  });

  it('end as they did, once, where that can only be written a little later, also after their lease', async () => {
    const { enqueue, run, reach, row, ended, hindered } = await service(database, runner);
    const [fails, ends] = [await enqueue('fails'), await enqueue('ends')];
    for (const subject of ['fails', 'ends']) hindered.set(subject, 3);
    let tries = 0;
    await run(async ({ subjectId }) => {
      tries++;
      if (subjectId === 'fails') throw new Error('the disk is full');
      return 'made';
    });
    await reach([fails], 'failed');
    await reach([ends], 'done');
    expect((await row(fails)).story.map(({ what }) => what)).toEqual(['fault', 'fault', 'fault']);
    expect((await row(ends)).story).toEqual([]);
    expect(ended.map(({ subject, end }) => [subject, end.state]).sort()).toEqual([['ends', 'done'], ['fails', 'failed']]);
    expect(tries).toBe(4);
  });

  it('give the job of a worker that no longer speaks to another, and take no result from the first', async () => {
    const { enqueue, run, reach, row, ended, jobs } = await service(database, runner);
    const id = await enqueue('s');
    const silent = await jobs.claim('silent');
    expect(silent?.id).toBe(id);
    await run(async () => 'second');
    await reach([id], 'done');
    expect(await jobs.finish(silent!, { state: 'done', result: 'first' })).toBe(false);
    expect(await jobs.beat(silent!)).toBe('lost');
    expect(ended).toEqual([{ subject: 's', end: { state: 'done', result: 'second' } }]);
    expect((await row(id)).story).toMatchObject([{ what: 'lease-ran-out', worker: 'silent' }]);
  });

  it('put a person before a batch, and let batches take turns', async () => {
    const { enqueue, run, reach, ended } = await service(database, runner);
    const batch = PRIORITY.batch;
    const ids: string[] = [];
    for (const name of names(4, 'a')) ids.push(await enqueue(name, { lane: 'batch-a', priority: batch }));
    for (const name of names(2, 'b')) ids.push(await enqueue(name, { lane: 'batch-b', priority: batch }));
    ids.push(await enqueue('person'));
    await run(async () => null);
    await reach(ids, 'done');
    const order = ended.map(({ subject }) => subject);
    expect(order[0]).toBe('person');
    expect(order.slice(1, 5).map((name) => name[0]).sort()).toEqual(['a', 'a', 'b', 'b']);
    expect(order.slice(5)).toEqual(['a-002', 'a-003']);
  });

  it('cancel what waits at once and what runs soon', async () => {
    const { enqueue, run, reach, row, jobs, records } = await service(database, runner);
    const running = await enqueue('running');
    await run(async (_, { signal }) => new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(new Error('stopped')))));
    await reach([running], 'running');
    const waiting = await enqueue('waiting');
    await records.change(MAKER, 'revision.cancelled', { table: 'customers', id: 'waiting' }, (draft) => jobs.cancelLane(draft, 'people'));
    expect((await row(waiting)).state).toBe('cancelled');
    await reach([running], 'cancelled');
    await records.change(MAKER, 'revision.cancelled', { table: 'customers', id: 'waiting' }, (draft) => jobs.cancel(draft, waiting));
    expect((await jobs.counts())).toMatchObject({ cancelled: 2, waiting: 0, running: 0 });
  });

  it('halt a lane that is paused until it goes on', async () => {
    const { enqueue, run, reach, row, jobs, records } = await service(database, runner);
    await records.transaction((tx) => jobs.pauseLane(tx, 'batch'));
    const [halted, other] = [await enqueue('halted', { lane: 'batch' }), await enqueue('other')];
    await run(async () => null);
    await reach([other], 'done');
    await wait(500);
    expect((await row(halted)).state).toBe('waiting');
    await records.change(MAKER, 'batch.resumed', { table: 'batches', id: 'batch' }, (draft) => jobs.resumeLane(draft, 'batch'));
    await reach([halted], 'done');
  });

  it('let what runs end when the program is asked to stop, and send back what does not end in time', async () => {
    const { enqueue, run, reach, row } = await service(database, runner);
    const quick = await enqueue('quick');
    const first = await run(async () => wait(300), { drainMs: 5000 });
    await reach([quick], 'running');
    await first.close();
    expect((await row(quick)).state).toBe('done');
    const slow = await enqueue('slow');
    const second = await run(async (_, { signal }) => new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(new Error('stopped')))), { drainMs: 100 });
    await reach([slow], 'running');
    await second.close();
    expect(await row(slow)).toMatchObject({ state: 'waiting', attempts: 0, crashes: 0, story: [{ what: 'drained' }] });
    await run(async () => null);
    await reach([slow], 'done');
  });

  it('tell how far they are', async () => {
    const { enqueue, run, reach, row, jobs } = await service(database, runner);
    const heard: string[] = [];
    jobs.events.on('progress', ({ progress }) => heard.push(progress.stage));
    const id = await enqueue('s');
    await run(async (_, { progress, preview }) => {
      progress({ stage: 'repair', done: 1, of: 9 });
      preview([{ name: 'review.glb', sha256: 'a', size: 1 }]);
      await wait(600);
    });
    await reach([id], 'running');
    while ((await row(id)).preview === null) await wait(15);
    expect(await row(id)).toMatchObject({ progress: { stage: 'repair', done: 1, of: 9 }, preview: [{ name: 'review.glb', sha256: 'a', size: 1 }] });
    await reach([id], 'done');
    expect(heard).toContain('repair');
  });
});

describe('jobs handed over by BullMQ', () => {
  it.each([['keeps what it held', false], ['has lost all that it held', true]])('outlast a queue that is killed and %s', async (_, empty) => {
    const own = await startRedis();
    onTestFinished(() => own.stop());
    const { enqueue, reach, records, jobs, ended } = await service('a server', 'by BullMQ');
    const runner = openBullRunner({
      jobs, log: QUIET, worker: 'w', slots: 1, config: { leaseMs: LEASE_MS, reconcileMs: 300, drainMs: 1000 }, redisUrl: own.url, work: async () => wait(20),
    });
    onTestFinished(() => runner.close());
    await runner.start();
    const ids = await Promise.all(names(20).map((name) => enqueue(name)));
    while (ended.length < 3) await wait(10);
    await own.kill();
    const late = await enqueue('late');
    await own.startAgain({ empty });
    await reach([...ids, late], 'done');
    expect(ended.map(({ subject }) => subject).sort()).toEqual(['late', ...names(20)]);
    expect((await records.verify()).brokenAt).toBeNull();
  });

  it('are let go of although the queue is gone', async () => {
    const own = await startRedis();
    onTestFinished(() => own.stop());
    const { enqueue, jobs, row } = await service('a server', 'by BullMQ');
    const runner = openBullRunner({
      jobs, log: QUIET, worker: 'w', slots: 1, config: { leaseMs: LEASE_MS, reconcileMs: 300, drainMs: 1000 }, redisUrl: own.url, work: async () => wait(300),
    });
    await runner.start();
    await runner.health();
    const id = await enqueue('s');
    while ((await row(id)).state !== 'running') await wait(10);
    await own.kill();
    await expect(runner.health()).rejects.toThrow();
    await runner.close();
    expect((await row(id)).state).toBe('done');
  });
});

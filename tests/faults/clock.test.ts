import { setTimeout as wait } from 'node:timers/promises';
import { desc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { openJobs } from '@cast-to-last/runtime/jobs/jobs';
import { openLocalRunner } from '@cast-to-last/runtime/jobs/local-runner';
import { clearAway } from '@cast-to-last/runtime/records/clear-away';
import { ClockNotBelieved, runRetention } from '@cast-to-last/runtime/records/run-retention';
import { audit, customers } from '@cast-to-last/runtime/records/schema';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { PASSWORD, inSession, workshopService } from '../support/api-service.js';
import { movableClock } from '../support/movable-clock.js';
import { openCommonRecords, openTestRecords } from '../support/open-records.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRow } from '../support/workshop-records.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const SCAN = sampleScan('2043-right.stl');

describe('a service whose clock is set while it works', () => {
  const workshop = workshopService();

  it('back by an hour: casts are made, the newest scan and rules count, sessions hold', async () => {
    const clock = movableClock();
    const { maker } = workshop();
    const { castId } = await bookIn(maker, { side: 'right' });
    const first = await upload(maker, castId, SCAN, 'first.stl');
    expect(first.status).toBeLessThan(300);
    clock.set(-HOUR);
    expect(await ended(maker, first.body.revisionId)).toMatchObject({ state: 'done', story: [] });
    // Asked for and made wholly under the clock that goes behind.
    const second = await upload(maker, castId, SCAN, 'second.stl');
    expect(await ended(maker, second.body.revisionId)).toMatchObject({ state: 'done', story: [] });
    expect((await maker('GET', `/casts/${castId}`)).body.currentRevisionId).toBe(second.body.revisionId);
    const again = await maker('POST', `/casts/${castId}/revisions`, {});
    expect((await maker('GET', `/revisions/${again.body.revisionId ?? again.body.id}`)).body.scanId).toBe(second.body.scanId);
  });

  it('ahead by a day and back: casts are made, an upload that was begun goes on, whoever was away signs in again', async () => {
    const clock = movableClock();
    const { maker, nobody, service } = workshop();
    const { castId } = await bookIn(maker, { side: 'right' });
    const { body: begun } = await maker('POST', `/casts/${castId}/uploads`, { fileName: 'slow.stl', size: SCAN.length });
    await maker.raw('PATCH', `/uploads/${begun.id}`, SCAN.slice(0, 5000), { 'upload-offset': '0' });
    clock.set(DAY);
    await clearAway(service.runtime);
    expect((await maker('GET', '/orders')).body.code).toBe('not-signed-in');
    const later = inSession(service.url, await nobody('POST', '/session', { name: 'maker', password: PASSWORD }));
    expect((await later.raw('PATCH', `/uploads/${begun.id}`, SCAN.slice(5000), { 'upload-offset': '5000' })).status).toBeLessThan(300);
    const made = await later('POST', `/uploads/${begun.id}/finish`);
    expect(await ended(later, made.body.revisionId)).toMatchObject({ state: 'done', story: [] });
    clock.set(0);
    for (const say of [maker, later]) expect((await say('GET', '/orders')).status).toBe(200);
    const records = service.runtime.records;
    expect((await records.verify()).brokenAt).toBeNull();
    const instants = (await records.db.select({ at: audit.at }).from(audit).orderBy(audit.seq)).map(({ at }) => at);
    expect(instants).toEqual([...new Set(instants)].sort());
  });

  it('ahead by a day and back: nobody is kept from signing in for longer than the longest wait', async () => {
    const clock = movableClock();
    const { nobody } = workshop();
    clock.set(DAY);
    const wrong = () => nobody('POST', '/session', { name: 'assistant', password: 'not the password' });
    let answer = await wrong();
    for (let i = 0; i < 10 && answer.status !== 429; i++) answer = await wrong();
    expect(answer.status).toBe(429);
    clock.set(0);
    expect((await nobody('POST', '/session', { name: 'assistant', password: PASSWORD })).status).toBe(200);
  });
});

describe('jobs, where the clock of the database is set', () => {
  const open = async (leaseMs = 600) => {
    const records = await openCommonRecords();
    const jobs = openJobs({ records, config: { leaseMs }, log: QUIET, backoffMs: 300, whenEnded: async (draft, job, { state }) => void (await draft.put('customers', { id: job.subjectId, number: job.subjectId, name: state })) });
    const enqueue = (subjectId: string) => records.change(MAKER, 'revision.asked', { table: 'customers', id: subjectId }, async (draft) => {
      await draft.put('customers', { id: subjectId, number: subjectId });
      return jobs.enqueue(draft, { kind: 'cast', subjectId, lane: 'people', priority: 0 });
    });
    const row = async (id: string) => (await records.db.select().from(jobRows).where(eq(jobRows.id, id)))[0];
    return { records, jobs, enqueue, row };
  };

  it('back by an hour: a job is taken, and one of a worker that died is taken from it', async () => {
    const clock = movableClock();
    const { jobs, enqueue, row } = await open();
    const id = await enqueue('s-1');
    clock.set(-HOUR);
    expect((await jobs.claim('worker-1'))?.id).toBe(id);
    clock.set(-2 * HOUR);
    while ((await row(id)).state !== 'waiting') {
      await jobs.reconcile();
      await wait(20);
    }
    expect((await jobs.claim('worker-2'))?.crashes).toBe(1);
  });

  it('back by an hour: the next try after a fault does not wait for an hour', async () => {
    const clock = movableClock();
    const { jobs, enqueue, row } = await open();
    const id = await enqueue('s-2');
    const job = await jobs.claim('worker-1');
    if (job === null) throw new Error('There is a job.');
    await jobs.sendBack(job, { what: 'fault', stage: null, text: 'a fault' });
    expect(await jobs.claim('worker-1')).toBeNull();
    clock.set(-HOUR);
    expect((await jobs.claim('worker-1'))?.id).toBe(id);
    expect((await row(id)).attempts).toBe(1);
  });

  it('ahead by a day: no job is taken from a worker that lives', async () => {
    const clock = movableClock();
    const leaseMs = 3000;
    const { records, jobs, enqueue, row } = await open(leaseMs);
    let end = (): void => undefined;
    const working = new Promise<void>((resolve) => (end = resolve));
    const runner = openLocalRunner({ jobs, work: () => working, log: QUIET, worker: 'worker-1', slots: 1, config: { leaseMs, reconcileMs: 60_000, drainMs: 0 } });
    await runner.start();
    const id = await enqueue('s-3');
    while ((await row(id)).state !== 'running') await wait(10);
    const { leaseUntil } = await row(id);
    clock.set(DAY);
    await jobs.reconcile();
    // Until the worker spoke again, however often others look.
    while ((await row(id)).leaseUntil === leaseUntil) {
      await jobs.reconcile();
      await wait(20);
    }
    expect(await row(id)).toMatchObject({ state: 'running', worker: 'worker-1', crashes: 0 });
    end();
    while ((await row(id)).state !== 'done') await wait(10);
    expect((await records.db.select().from(customers)).map(({ name }) => name)).toEqual(['done']);
    await runner.close();
  });
});

it('a clock that is years ahead has no customer erased until someone works under it', async () => {
  const clock = movableClock();
  const folder = temporaryFolder();
  const records = await openTestRecords(folder, null);
  const context = { records, ...(await openStore({ dataFolder: folder, objectStore: null })) };
  const today = () => new Date().toISOString().slice(0, 10);
  await putRow(records, 'customers', { id: 'c-1', number: 'K-1', name: 'name', retainUntil: new Date(Date.now() + 400 * DAY).toISOString().slice(0, 10) });
  clock.set(5 * 365 * DAY);
  await expect(runRetention(context, today())).rejects.toThrow(ClockNotBelieved);
  clock.set(0);
  expect(await runRetention(context, today())).toEqual({ erased: [], left: [] });
  clock.set(401.5 * DAY);
  await putRow(records, 'customers', { id: 'c-2', number: 'K-2' });
  expect((await runRetention(context, today())).erased).toEqual(['K-1']);
  expect((await records.db.select().from(audit).orderBy(desc(audit.seq)).limit(1))[0].kind).toBe('customer.erased');
});

it('a file that was stored just now is not thrown away where the clock is set ahead before a row names it', async () => {
  const clock = movableClock();
  const folder = temporaryFolder();
  const records = await openTestRecords(folder, null);
  const { artifacts } = await openStore({ dataFolder: folder, objectStore: null });
  const { sha256 } = await artifacts.add(SCAN);
  clock.set(2 * DAY);
  expect(await clearAway({ records, artifacts })).toBe(0);
  expect(await artifacts.has(sha256)).toBe(true);
});

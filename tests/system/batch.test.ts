import { randomUUID } from 'node:crypto';
import { createReadStream, readFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { and, count, eq, inArray } from 'drizzle-orm';
import { expect, it, onTestFinished } from 'vitest';
import { readConfig } from '@cast-to-last/runtime/config';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { audit, casts, revisions } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { bothServers } from '../support/both-servers.js';
import { PASSWORD, inSession, speaker } from '../support/api-service.js';
import { freePort } from '../support/free-port.js';
import { lighterScan } from '../support/lighter-scan.js';
import { startProgram } from '../support/program.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRules } from '../support/workshop-records.js';

const program = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const API = program('services/api/dist/main.js');
const WORKER = program('workers/cast-worker/dist/main.js');
const SAMPLES = [['2041-right', 'right'], ['2044-left', 'left']] as const;
const CASTS = 100;
/** As many triangles as are taken at all: more than the memory that one cast may take. */
const POISON = 4_000_000;
const MEMORY_MB = 600;
const POISONED: number = 50;

const servers = bothServers();

/** Asks until it is so; the test's own time is the limit. */
async function until<T>(ask: () => Promise<T>, holds: (answer: T) => boolean): Promise<T> {
  for (;;) {
    const answer = await ask();
    if (holds(answer)) return answer;
    await wait(100);
  }
}

/** A scan with each of its triangles as often as that many triangles, or a few less, allow. */
async function* manyTimes(path: string, triangles: number): AsyncGenerator<Uint8Array> {
  const stl = readFileSync(path);
  const times = Math.floor(triangles / stl.readUInt32LE(80));
  const head = Buffer.from(stl.subarray(0, 84));
  head.writeUInt32LE(stl.readUInt32LE(80) * times, 80);
  yield head;
  for (let n = 0; n < times; n++) yield stl.subarray(84);
}

it('a batch of 100 casts comes to its end with one among them that kills whoever works on it, and with worker, service and queue killed meanwhile', async () => {
  const port = String(await freePort());
  const env = {
    CAST_DATA_FOLDER: temporaryFolder(), DATABASE_URL: await servers().postgres.newDatabase(), REDIS_URL: servers().redis.url,
    LOG_LEVEL: 'silent', JOB_LEASE_S: '2', RECONCILE_S: '1', DRAIN_S: '0', JOB_MEMORY_MB: String(MEMORY_MB),
  };
  const service = await openRuntime(readConfig({ ...env, WORK: 'none' }), QUIET);
  onTestFinished(() => service.close());
  const { records, artifacts, jobs } = service;
  const workers = [startProgram(WORKER, [], env), startProgram(WORKER, [], env)];

  // Two casts are made; the others have the same scans and results.
  const rules = await putRules(records);
  const stretched = await putRules(records, { last: { ...rules.content.last, toeAllowanceMm: 8 } });
  const put = async (draft: ChangeDraft, n: number, stored: { sha256: string; size: number }, like: number, revision?: RowOf<'revisions'>) => {
    const [orderId, castId, scanId, revisionId] = [randomUUID(), randomUUID(), randomUUID(), randomUUID()];
    const [, side] = SAMPLES[like];
    await draft.put('orders', { id: orderId, number: `S-${n}`, state: 'open', content: { orderNumber: `S-${n}` } });
    await draft.put('scans', { id: scanId, castId, fileName: 'cast.stl', ...stored, kind: 'positive', unit: 'auto', sideOverride: false });
    if (revision !== undefined) await draft.put('revisions', { ...revision, id: revisionId, castId, scanId });
    await draft.put('casts', { id: castId, orderId, side, state: revision === undefined ? 'awaiting-scan' : 'to-review', photos: [], currentRevisionId: revision === undefined ? null : revisionId });
    return { castId, scanId };
  };
  const paths = await Promise.all(SAMPLES.map(([name]) => lighterScan(name)));
  const scans = await Promise.all(paths.map((path) => artifacts.add(createReadStream(path))));
  const asked = await records.change(MAKER, 'casts.put', { table: 'rule_sets', id: rules.id }, async (draft) => {
    const ids: string[] = [];
    for (const [n, scan] of scans.entries()) ids.push((await requestRevision(draft, jobs, { ...(await put(draft, n, scan, n)), ruleSetId: rules.id, decisionsId: null, origin: 'person' })).id);
    return ids;
  });
  const poison = await artifacts.add(manyTimes(paths[0], POISON));
  const made = await until(() => records.db.select().from(revisions).where(and(inArray(revisions.id, asked), eq(revisions.state, 'done'))), ({ length }) => length === SAMPLES.length);
  const poisoned = await records.change(MAKER, 'casts.put', { table: 'rule_sets', id: rules.id }, async (draft) => {
    let castId = '';
    for (let n = SAMPLES.length; n < CASTS; n++) {
      const like = n % SAMPLES.length;
      const cast = await put(draft, n, n === POISONED ? poison : scans[like], like, made.find(({ id }) => id === asked[like]));
      if (n === POISONED) castId = cast.castId;
    }
    return castId;
  });

  const apiEnv = { ...env, WORK: 'none', HTTP_PORT: port };
  let api = startProgram(API, [], apiEnv);
  const link = await api.line((line) => line.includes('welcome#'));
  const base = `http://127.0.0.1:${port}`;
  const say = inSession(base, await speaker(base)('POST', '/first-account', { token: /welcome#(\S+)/.exec(link)?.[1], name: 'first', displayName: 'First', password: PASSWORD }));
  const { status, body: { id: batchId, casts: inBatch } } = await say('POST', '/batches', { name: 'longer toes', rulesId: stretched.id, filter: {} });
  expect([status, inBatch]).toEqual([201, CASTS]);

  const endedSoFar = async (): Promise<number> => (await records.db.select({ n: count() }).from(revisions).where(and(eq(revisions.batchId, batchId), eq(revisions.state, 'done'))))[0].n;
  const after = (n: number) => until(endedSoFar, (done) => done >= n);
  await after(15);
  await workers[0].kill();
  workers[0] = startProgram(WORKER, [], env);
  await after(35);
  await api.kill();
  await after(45);
  api = startProgram(API, [], apiEnv);
  await api.line((line) => line.includes('is at'));
  await after(60);
  await servers().redis.kill();
  await wait(500);
  await servers().redis.startAgain();

  const { body: batch } = await until(() => say('GET', `/batches/${batchId}`), ({ body }) => body.state === 'ended');
  expect(batch).toMatchObject({ state: 'ended', counts: { asked: CASTS, done: CASTS - 1, failed: 1, compared: CASTS - 1 } });
  const candidates = await records.db.select().from(revisions).where(eq(revisions.batchId, batchId));
  expect(new Set(candidates.map(({ castId }) => castId)).size).toBe(CASTS);
  const aside = candidates.filter(({ state }) => state !== 'done');
  expect(aside).toMatchObject([{ castId: poisoned, state: 'set-aside', files: [] }]);
  expect(aside[0].story.map(({ what }) => what).filter((what) => ['out-of-memory', 'lease-ran-out', 'worker-died'].includes(what)).length).toBeGreaterThanOrEqual(2);
  expect(aside[0].story.at(-1)).toMatchObject({ worker: expect.any(String), text: expect.stringMatching(/MB|no longer speaks|ended/) });
  // Nothing was done twice: each candidate came to its end once, and no cast has another result than before.
  const ends = await records.db.select({ id: audit.subjectId, n: count() }).from(audit).where(and(eq(audit.kind, 'revision.ended'), inArray(audit.subjectId, candidates.map(({ id }) => id)))).groupBy(audit.subjectId);
  expect([ends.length, ...new Set(ends.map(({ n }) => n))]).toEqual([CASTS, 1]);
  const other = (await records.db.select().from(casts)).filter(({ currentRevisionId }) => candidates.some(({ id }) => id === currentRevisionId));
  expect(other).toEqual([]);
  expect((await records.verify()).brokenAt).toBeNull();
  expect((await say('GET', `/jobs?state=set-aside&batch=${batchId}`)).body.items).toMatchObject([{ castId: poisoned, crashes: 2, orderNumber: `S-${POISONED}` }]);
}, 1_200_000);

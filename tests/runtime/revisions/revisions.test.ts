import { randomUUID } from 'node:crypto';
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { openJobs } from '@cast-to-last/runtime/jobs/jobs';
import type { JobEnd } from '@cast-to-last/runtime/jobs/jobs';
import type { Records } from '@cast-to-last/runtime/records/records';
import { casts, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import type { RevisionWish } from '@cast-to-last/runtime/revisions/request-revision';
import { requeueLost } from '@cast-to-last/runtime/revisions/requeue-lost';
import { revisionEnded } from '@cast-to-last/runtime/revisions/revision-ended';
import { openCommonRecords, openTestRecords } from '../../support/open-records.js';
import { QUIET } from '../../support/quiet-log.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { MAKER, putRow, putRules, putScan } from '../../support/workshop-records.js';

const SCAN = { sha256: 'a'.repeat(64), size: 10 };
const MADE: JobEnd = { state: 'done', result: { files: [{ name: 'last.stl', sha256: 'b'.repeat(64), size: 3 }], summary: { verdict: 'usable' } } };

async function workshop(records: Records) {
  const jobs = openJobs({ records, config: { leaseMs: 5000 }, log: QUIET, whenEnded: revisionEnded });
  const [scan, rules] = [await putScan(records, SCAN), await putRules(records)];
  const ask = (wish: Partial<RevisionWish> = {}) =>
    records.change(MAKER, 'revision.asked', { table: 'casts', id: scan.castId }, (draft) =>
      requestRevision(draft, jobs, { ...scan, ruleSetId: rules.id, decisionsId: null, origin: 'person', ...wish }));
  /** Ends the next job in line so; the revision then. */
  const end = async (how: JobEnd) => {
    const job = await jobs.claim('w');
    expect(await jobs.finish(job!, how)).toBe(true);
    return (await records.db.select().from(revisions).where(eq(revisions.id, job!.subjectId)))[0];
  };
  const cast = async () => (await records.db.select().from(casts).where(eq(casts.id, scan.castId)))[0];
  return { jobs, scan, rules, ask, end, cast };
}

describe('revisions', () => {
  it('are one for the same inputs, and another where rules, decisions or the order change', async () => {
    const records = await openCommonRecords();
    const { ask, scan, jobs, cast } = await workshop(records);
    const first = await ask();
    expect(await ask()).toEqual(first);
    expect((await jobs.counts()).waiting).toBe(1);
    expect((await cast()).state).toBe('in-work');
    const stricter = await putRules(records, { marks: { ...DEFAULT_RULES.marks, minDepthMm: DEFAULT_RULES.marks.minDepthMm + 0.1 } });
    const others = [await ask({ ruleSetId: stricter.id })];
    const decided = await putRow(records, 'decisions', { id: randomUUID(), scanId: scan.scanId, content: { marks: [], patches: [] }, sha256: 'c'.repeat(64) });
    others.push(await ask({ decisionsId: decided.id }));
    const { orderId } = await cast();
    await putRow(records, 'orders', { id: orderId, number: orderId, state: 'open', content: { orderNumber: orderId, load: 'half' } });
    others.push(await ask());
    expect([first, ...others].map(({ number }) => number)).toEqual([1, 2, 3, 4]);
    expect(new Set([first, ...others].map(({ inputsSha256 }) => inputsSha256)).size).toBe(4);
    expect(await ask({ decisionsId: decided.id }).then(({ number }) => number)).toBe(5);
  });

  it('keep what was made, with a fingerprint of all that went in and came out', async () => {
    const records = await openCommonRecords();
    const { ask, end, cast } = await workshop(records);
    const asked = await ask();
    const done = await end(MADE);
    expect(done).toMatchObject({ id: asked.id, state: 'done', files: [{ name: 'last.stl' }], summary: { verdict: 'usable' }, refusal: null });
    expect(done.fingerprint).toMatch(/^[0-9a-f]{64}$/);
    expect(await cast()).toMatchObject({ state: 'to-review', currentRevisionId: asked.id, approvedRevisionId: null });
    expect(await ask()).toEqual(done);
  });

  it('that were refused stay so; those that failed are made anew when they are asked for again', async () => {
    const records = await openCommonRecords();
    const { ask, end, jobs } = await workshop(records);
    await ask();
    const refusal = { code: 'flat-surface', message: 'It is flat. Scan the cast.', remedy: 'Scan the cast.' };
    expect(await end({ state: 'refused', refusal })).toMatchObject({ state: 'refused', refusal, files: [], fingerprint: null });
    expect((await ask()).state).toBe('refused');

    const other = await workshop(records);
    const asked = await other.ask();
    expect((await other.end({ state: 'failed' })).state).toBe('failed');
    const again = await other.ask();
    expect(again).toMatchObject({ id: asked.id, number: 1, state: 'waiting' });
    expect(await other.end(MADE)).toMatchObject({ id: asked.id, state: 'done' });
    expect(await jobs.counts()).toMatchObject({ refused: 1, failed: 1, done: 1, waiting: 0 });
  });

  it('of a batch wait behind those of people and leave the cast as it is', async () => {
    const records = await openCommonRecords();
    const { ask, end, cast, jobs } = await workshop(records);
    const current = await ask();
    await end(MADE);
    const before = await cast();
    const stricter = await putRules(records, { marks: { ...DEFAULT_RULES.marks, minDepthMm: DEFAULT_RULES.marks.minDepthMm + 0.2 } });
    const candidate = await ask({ ruleSetId: stricter.id, origin: 'batch', batchId: 'batch-1' });
    const other = await workshop(records);
    const person = await other.ask();
    expect((await jobs.claim('w'))?.subjectId).toBe(person.id);
    expect(await end(MADE)).toMatchObject({ id: candidate.id, state: 'done', batchId: 'batch-1' });
    expect(await cast()).toEqual(before);
    expect(before.currentRevisionId).toBe(current.id);
  });

  it('whose jobs went with a lost database are given new ones, once', async () => {
    const folder = temporaryFolder();
    const records = await openTestRecords(folder, null);
    const { ask, end } = await workshop(records);
    const done = await ask();
    await end(MADE);
    const { ask: askOther } = await workshop(records);
    const waiting = await askOther();
    await records.close();
    rmSync(join(folder, 'records'), { recursive: true, force: true });
    const again = await openTestRecords(folder, null);
    const jobs = openJobs({ records: again, config: { leaseMs: 5000 }, log: QUIET, whenEnded: revisionEnded });
    expect(await requeueLost(again, jobs)).toBe(1);
    expect(await requeueLost(again, jobs)).toBe(0);
    expect((await again.db.select().from(jobRows)).map(({ subjectId, state, lane }) => [subjectId, state, lane])).toEqual([[waiting.id, 'waiting', 'people']]);
    expect((await again.db.select().from(revisions).where(eq(revisions.id, done.id)))[0]).toMatchObject({ state: 'done', files: [{ name: 'last.stl' }] });
  });
});

import { randomUUID } from 'node:crypto';
import { and, desc, eq, inArray, lt } from 'drizzle-orm';
import { z } from 'zod';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { approvals, decisions, revisions, ruleSets, scans } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { conflict, notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { jobsAbout, shownJob } from '../jobs/shown-job.js';
import { askRevision } from './ask-revision.js';

const listed = ({ id, version, castId, scanId, number, state, origin, batchId, ruleSetId, decisionsId, fingerprint, programVersion, createdAt, endedAt }: RowOf<'revisions'>) =>
  ({ id, version, castId, scanId, number, state, origin, batchId, rulesId: ruleSetId, decisionsId, fingerprint, programVersion, createdAt, endedAt });

/** The greatest number that the column of revisions' numbers holds. */
const MOST_NUMBER = 2 ** 31 - 1;

export const listRevisions = route({
  method: 'get', path: '/casts/:id/revisions', summary: 'Results of a cast, newest first.',
  query: z.strictObject({ limit: z.coerce.number().int().min(1).max(200).default(50), after: z.coerce.number().int().positive().max(MOST_NUMBER).optional() }),
  handle: async ({ service: { runtime: { records: { db } } }, params: { id }, query: { limit, after } }) => {
    const rows = await db.select().from(revisions).where(and(eq(revisions.castId, id), after === undefined ? undefined : lt(revisions.number, after))).orderBy(desc(revisions.number)).limit(limit + 1);
    return { body: { items: rows.slice(0, limit).map(listed), next: rows.length > limit ? String(rows[limit - 1].number) : null } };
  },
});

export const readRevision = route({
  method: 'get', path: '/revisions/:id', summary: 'One result: what it was made of and what was told of its scan, what came out, its files, its approval and its job.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db
      .select({ revision: revisions, decided: decisions.content, rulesName: ruleSets.name, rulesNumber: ruleSets.number, scan: { kind: scans.kind, unit: scans.unit, wallMm: scans.wallMm, scannerId: scans.scannerId } })
      .from(revisions).innerJoin(ruleSets, eq(ruleSets.id, revisions.ruleSetId)).leftJoin(decisions, eq(decisions.id, revisions.decisionsId)).leftJoin(scans, eq(scans.id, revisions.scanId)).where(eq(revisions.id, id));
    if (row === undefined) throw notFound('revision');
    const [approval] = await db.select().from(approvals).where(eq(approvals.revisionId, id)).orderBy(desc(approvals.createdAt)).limit(1);
    const [job] = await jobsAbout(db).where(eq(jobs.subjectId, id)).orderBy(desc(jobs.createdAt)).limit(1);
    const { revision } = row;
    return {
      version: revision.version,
      body: {
        ...listed(revision), rules: { id: revision.ruleSetId, name: row.rulesName, number: row.rulesNumber }, decisions: row.decided ?? NO_DECISIONS, scan: row.scan,
        files: revision.files, preview: revision.state === 'waiting' ? (job?.preview ?? []) : [], summary: revision.summary, refusal: revision.refusal, story: revision.story,
        approval: approval ?? null, job: job === undefined ? null : shownJob(job),
      },
    };
  },
});

export const addRevision = route({
  method: 'post', path: '/casts/:id/revisions', summary: 'Asks for a result of the cast\'s newest scan by these decisions, and by the rules of the current result where no others are named.', status: 202,
  body: z.strictObject({ rulesId: z.uuid().optional(), scanId: z.uuid().optional(), decisions: z.record(z.string(), z.unknown()).optional() }),
  handle: async ({ service: { runtime }, by, params: { id: castId }, body }) => {
    const content = parseDecisions(body.decisions ?? {});
    const made = await runtime.records.change(by, 'revision.asked', { table: 'casts', id: castId }, async (draft) => {
      const cast = await draft.expect('casts', castId);
      const scan = await scanFor(draft, castId, body.scanId);
      const decisionsId = await keepDecisions(draft, scan.id, content, by.id);
      const ruleSetId = body.rulesId ?? (await rulesOf(draft, cast, scan.id));
      const revision = await askRevision(draft, runtime.jobs, { castId, scanId: scan.id, ruleSetId, decisionsId });
      const [job] = await draft.tx.select({ id: jobs.id }).from(jobs).where(and(eq(jobs.subjectId, revision.id), inArray(jobs.state, ['waiting', 'running']))).limit(1);
      return { revisionId: revision.id, jobId: job?.id ?? null, state: revision.state };
    });
    return { status: 202, body: made, headers: { Location: `/api/v1/revisions/${made.revisionId}` } };
  },
});

/** The one that is named, else the newest. Throws Problem 404 and 409. */
async function scanFor({ tx }: ChangeDraft, castId: string, scanId: string | undefined): Promise<RowOf<'scans'>> {
  const [scan] = await tx.select().from(scans).where(and(eq(scans.castId, castId), scanId === undefined ? undefined : eq(scans.id, scanId))).orderBy(desc(scans.createdAt)).limit(1);
  if (scan !== undefined) return scan;
  throw scanId === undefined ? conflict('no-scan', 'This cast has no scan yet.', 'Upload one.') : notFound('scan of this cast');
}

/** The same decisions on the same scan are kept once. */
async function keepDecisions(draft: ChangeDraft, scanId: string, content: RowOf<'decisions'>['content'], personId: string | null): Promise<string | null> {
  if (content.marks.length === 0 && content.patches.length === 0) return null;
  const digest = jsonSha256(content);
  const [same] = await draft.tx.select({ id: decisions.id }).from(decisions).where(and(eq(decisions.scanId, scanId), eq(decisions.sha256, digest)));
  return same?.id ?? (await draft.put('decisions', { id: randomUUID(), scanId, content, sha256: digest, personId })).id;
}

/** Those of the current result, else those of the newest one. */
async function rulesOf(draft: ChangeDraft, cast: RowOf<'casts'>, scanId: string): Promise<string> {
  if (cast.currentRevisionId !== null) return (await draft.expect('revisions', cast.currentRevisionId)).ruleSetId;
  const [newest] = await draft.tx.select({ ruleSetId: revisions.ruleSetId }).from(revisions).where(eq(revisions.scanId, scanId)).orderBy(desc(revisions.number)).limit(1);
  if (newest === undefined) throw conflict('no-rules', 'No rules are named, and this scan was not worked on yet.', 'Name the rules.');
  return newest.ruleSetId;
}

import { randomUUID } from 'node:crypto';
import { and, eq, max } from 'drizzle-orm';
import { STAGE_VERSIONS } from '@cast-to-last/pipeline/pipeline';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { Jobs } from '../jobs/jobs.js';
import { PRIORITY } from '../jobs/limits.js';
import type { ChangeDraft } from '../records/changes/change.js';
import { revisions } from '../records/schema.js';
import type { RowOf } from '../records/schema.js';

export interface RevisionWish {
  readonly castId: string;
  readonly scanId: string;
  readonly ruleSetId: string;
  /** Null: none were made. */
  readonly decisionsId: string | null;
  readonly origin: 'person' | 'batch' | 'import';
  readonly batchId?: string;
}

/** The lane of what a person waits for; a batch has one of its own, by its id. */
const PEOPLE_LANE = 'people';

/**
 * The revision of a cast by these inputs: the one that there is, else a new one with its job. One that failed, was set
 * aside or was cancelled is made anew. Throws NoSuchRecord where an input is missing.
 */
export async function requestRevision(draft: ChangeDraft, jobs: Jobs, wish: RevisionWish): Promise<RowOf<'revisions'>> {
  const { castId, scanId, ruleSetId, decisionsId, origin, batchId = null } = wish;
  const inputsSha256 = await fingerprintOfInputs(draft, wish);
  const [same] = await draft.tx.select().from(revisions).where(and(eq(revisions.castId, castId), eq(revisions.inputsSha256, inputsSha256)));
  if (same !== undefined && !['failed', 'set-aside', 'cancelled'].includes(same.state)) return same;

  const [{ last }] = await draft.tx.select({ last: max(revisions.number) }).from(revisions).where(eq(revisions.castId, castId));
  const revision = await draft.put('revisions', {
    id: same?.id ?? randomUUID(), castId, scanId, ruleSetId, decisionsId, number: same?.number ?? (last ?? 0) + 1, inputsSha256, origin, batchId,
    state: 'waiting', files: [], story: same?.story ?? [],
  });
  await jobs.enqueue(draft, jobOf(revision));
  const cast = await draft.expect('casts', castId);
  if (origin === 'person') await draft.put('casts', { ...cast, state: 'in-work' });
  return revision;
}

/** The job that makes a revision. */
export const jobOf = ({ id, origin, batchId }: Pick<RowOf<'revisions'>, 'id' | 'origin' | 'batchId'>) => ({
  kind: 'cast', subjectId: id, priority: origin === 'person' ? PRIORITY.person : PRIORITY.batch, lane: batchId ?? PEOPLE_LANE,
});

/** Changes when anything changes that the result depends on, a stage of the program among it. */
async function fingerprintOfInputs(draft: ChangeDraft, { castId, scanId, ruleSetId, decisionsId }: RevisionWish): Promise<string> {
  const cast = await draft.expect('casts', castId);
  const order = await draft.expect('orders', cast.orderId);
  const { sha256: scan, fileName, kind, unit, wallMm, sideOverride } = await draft.expect('scans', scanId);
  const { sha256: rules } = await draft.expect('rule_sets', ruleSetId);
  const decisions = decisionsId === null ? null : (await draft.expect('decisions', decisionsId)).sha256;
  return jsonSha256({ scan, fileName, kind, unit, wallMm, sideOverride, side: cast.side, order: order.content, rules, decisions, stages: STAGE_VERSIONS });
}

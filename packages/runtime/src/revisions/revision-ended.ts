import { eq } from 'drizzle-orm';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import type { JobEnd, JobRow } from '../jobs/jobs.js';
import type { ChangeDraft } from '../records/changes/change.js';
import { casts, revisions } from '../records/schema.js';
import type { RowOf } from '../records/schema.js';
import type { CastMade } from './cast-task.js';
import { PROGRAM_VERSION } from '../program-version.js';

/** Of all that went in and all that came out: what an approval is given to. */
export const fingerprintOf = (inputsSha256: string, programVersion: string, { files }: Pick<CastMade, 'files'>): string =>
  jsonSha256({ inputsSha256, programVersion, files: files.map(({ name, sha256: digest }) => ({ name, sha256: digest })) });

/** Puts what the end of its job means for a revision and its cast. A revision that was erased meanwhile stays so. */
export async function revisionEnded(draft: ChangeDraft, job: JobRow, end: JobEnd): Promise<void> {
  const [before] = await draft.tx.select().from(revisions).where(eq(revisions.id, job.subjectId));
  if (before === undefined) return;
  const made = end.state === 'done' ? (end.result as CastMade) : null;
  const revision = await draft.put('revisions', {
    ...before,
    state: end.state,
    files: made?.files ?? [],
    summary: made?.summary ?? null,
    refusal: end.state === 'refused' ? end.refusal : null,
    story: job.story,
    programVersion: PROGRAM_VERSION,
    fingerprint: made === null ? null : fingerprintOf(before.inputsSha256, PROGRAM_VERSION, made),
    endedAt: draft.at,
  });
  const [cast] = await draft.tx.select().from(casts).where(eq(casts.id, before.castId));
  if (cast !== undefined && revision.origin === 'person') await draft.put('casts', { ...cast, ...afterRevision(cast, revision) });
}

/** What a person asked for is what is shown next; a candidate of a batch changes nothing until a maker takes it. */
function afterRevision(cast: RowOf<'casts'>, revision: RowOf<'revisions'>): Pick<RowOf<'casts'>, 'state' | 'currentRevisionId'> {
  if (revision.state === 'done') return { state: cast.approvedRevisionId === revision.id ? 'approved' : 'to-review', currentRevisionId: revision.id };
  const back = cast.approvedRevisionId !== null && cast.approvedRevisionId === cast.currentRevisionId ? 'approved' : 'to-review';
  return { state: revision.state === 'cancelled' && cast.currentRevisionId === null ? 'awaiting-scan' : back, currentRevisionId: cast.currentRevisionId };
}

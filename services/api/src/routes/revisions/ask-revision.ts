import type { Jobs } from '@cast-to-last/runtime/jobs/jobs';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';

export interface RevisionInputs {
  readonly castId: string;
  readonly scanId: string;
  readonly ruleSetId: string;
  readonly decisionsId: string | null;
}

/**
 * The revision that a person asks for. One that is there already becomes the cast's current one again: this is how one goes
 * back to an earlier result.
 */
export async function askRevision(draft: ChangeDraft, jobs: Jobs, inputs: RevisionInputs): Promise<RowOf<'revisions'>> {
  const revision = await requestRevision(draft, jobs, { ...inputs, origin: 'person' });
  if (revision.state !== 'done') return revision;
  const cast = await draft.expect('casts', inputs.castId);
  if (cast.currentRevisionId !== revision.id || cast.state === 'in-work') {
    await draft.put('casts', { ...cast, currentRevisionId: revision.id, state: cast.approvedRevisionId === revision.id ? 'approved' : 'to-review' });
  }
  return revision;
}

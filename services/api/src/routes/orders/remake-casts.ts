import { eq } from 'drizzle-orm';
import type { Jobs } from '@cast-to-last/runtime/jobs/jobs';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { casts } from '@cast-to-last/runtime/records/schema';
import { askRevision } from '../revisions/ask-revision.js';

/** After an order changed: a new revision of each cast that has one, by the same scan, rules and decisions. An approved one stays approved. */
export async function remakeCasts(draft: ChangeDraft, jobs: Jobs, orderId: string): Promise<void> {
  for (const cast of await draft.tx.select().from(casts).where(eq(casts.orderId, orderId))) {
    if (cast.currentRevisionId === null) continue;
    const { scanId, ruleSetId, decisionsId } = await draft.expect('revisions', cast.currentRevisionId);
    await askRevision(draft, jobs, { castId: cast.id, scanId, ruleSetId, decisionsId });
  }
}

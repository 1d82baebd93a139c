import { randomUUID } from 'node:crypto';
import { and, desc, eq } from 'drizzle-orm';
import { scans } from '@cast-to-last/runtime/records/schema';
import { jobs, uploads } from '@cast-to-last/runtime/records/working-tables';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { askRevision } from '../revisions/ask-revision.js';
import { currentRules } from '../rules/current-rules.js';
import { particularsSchema } from './begin-upload.js';
import { alone, uploadOf } from './continue-upload.js';

export const finishUpload = route({
  method: 'post', path: '/uploads/:id/finish', summary: 'Keeps an upload that is whole as a scan of its cast and begins the work on it.', status: 201,
  handle: async (call) => {
    const { service: { runtime: { records, artifacts, jobs: queue } }, by, who } = call;
    const upload = await uploadOf(call);
    const { sha256: announced, ...particulars } = particularsSchema.parse(upload.particulars);
    return alone(upload.id, async () => {
      const received = await artifacts.received(upload.id);
      if (received !== upload.size) throw conflict('upload-not-whole', `${received} of ${upload.size} bytes are there.`, 'Send the others first.', { received });
      const stored = await artifacts.finishParts(upload.id);
      if (announced !== undefined && announced !== stored.sha256) {
        await records.db.delete(uploads).where(eq(uploads.id, upload.id));
        throw conflict('other-bytes', 'The bytes that arrived are not those that were announced.', 'Upload the file again.');
      }
      const made = await records.change(by, 'scan.added', { table: 'casts', id: upload.castId }, async (draft) => {
        const scan = (await sameScan(draft, upload.castId, stored.sha256, particulars))
          ?? (await draft.put('scans', { id: randomUUID(), castId: upload.castId, fileName: upload.fileName, ...stored, ...particulars, personId: who.kind === 'person' ? who.id : null }));
        const rules = await currentRules(draft);
        const revision = await askRevision(draft, queue, { castId: upload.castId, scanId: scan.id, ruleSetId: rules.id, decisionsId: null });
        await draft.tx.delete(uploads).where(eq(uploads.id, upload.id));
        const [job] = await draft.tx.select({ id: jobs.id }).from(jobs).where(eq(jobs.subjectId, revision.id)).orderBy(desc(jobs.createdAt)).limit(1);
        return { scanId: scan.id, revisionId: revision.id, jobId: job?.id ?? null };
      });
      return { status: 201, body: made };
    });
  },
});

/** A scan of the cast with the same bytes and the same particulars: an upload that comes twice is one scan. */
async function sameScan({ tx }: ChangeDraft, castId: string, sha256: string, { kind, unit, wallMm, sideOverride }: { kind: string; unit: string; wallMm?: number | undefined; sideOverride: boolean }) {
  const rows = await tx.select().from(scans).where(and(eq(scans.castId, castId), eq(scans.sha256, sha256)));
  return rows.find((scan) => scan.kind === kind && scan.unit === unit && scan.wallMm === (wallMm ?? null) && scan.sideOverride === sideOverride);
}

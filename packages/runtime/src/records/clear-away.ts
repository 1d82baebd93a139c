import { eq, lt } from 'drizzle-orm';
import type { Artifacts } from '../artifacts/artifacts.js';
import type { Records } from './records.js';
import { referencedArtifacts } from './referenced-artifacts.js';
import { sessions, uploads } from './working-tables.js';

/** Files are stored before the rows that name them, and by a service on other machines too: only what is older is cleared away. */
const AFTER_MS = 24 * 3_600_000;

/** Clears away uploads and sessions that ran out, what was left unfinished, and files that nothing refers to; how many files. */
export async function clearAway({ records, artifacts }: { readonly records: Records; readonly artifacts: Artifacts }): Promise<number> {
  const now = new Date().toISOString();
  for (const { id } of await records.db.select({ id: uploads.id }).from(uploads).where(lt(uploads.expiresAt, now))) {
    await artifacts.dropParts(id);
    await records.db.delete(uploads).where(eq(uploads.id, id));
  }
  await records.db.delete(sessions).where(lt(sessions.expiresAt, now));
  const known = new Set((await records.db.select({ id: uploads.id }).from(uploads)).map(({ id }) => id));
  const unfinished = await artifacts.removeUnfinished((uploadId) => known.has(uploadId), AFTER_MS);
  const referenced = await referencedArtifacts(records.db);
  return unfinished + (await artifacts.removeOrphans((sha256) => referenced.has(sha256), AFTER_MS));
}

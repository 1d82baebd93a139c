import { eq } from 'drizzle-orm';
import type { Stored } from '@cast-to-last/runtime/artifacts/artifacts';
import { uploads } from '@cast-to-last/runtime/records/working-tables';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { conflict, notFound } from '../../http/problem.js';

/**
 * Puts an upload whose bytes are all there into the store of files, once. Not while a part comes in.
 * Throws Problem 409 where bytes are missing, or are not those that were announced: the upload is then gone.
 */
export async function storeUpload({ records: { db }, artifacts }: Pick<Runtime, 'records' | 'artifacts'>, upload: typeof uploads.$inferSelect): Promise<Stored> {
  const { id, size, particulars } = upload;
  // Another request may have stored it since the row was read.
  const [now] = await db.select({ sha256: uploads.sha256 }).from(uploads).where(eq(uploads.id, id));
  if (now === undefined) throw notFound('upload');
  if (now.sha256 !== null) return { sha256: now.sha256, size };
  const received = await artifacts.received(id);
  if (received !== size) throw conflict('upload-not-whole', `${received} of ${size} bytes are there.`, 'Send the others first.', { received });
  const stored = await artifacts.finishParts(id);
  if (particulars.sha256 !== undefined && particulars.sha256 !== stored.sha256) {
    await db.delete(uploads).where(eq(uploads.id, id));
    throw conflict('other-bytes', 'The bytes that arrived are not those that were announced.', 'Upload the file again.');
  }
  await db.update(uploads).set({ sha256: stored.sha256 }).where(eq(uploads.id, id));
  return stored;
}

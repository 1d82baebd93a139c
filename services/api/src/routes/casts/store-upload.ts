import { eq } from 'drizzle-orm';
import { countTriangles } from '@cast-to-last/geometry/formats/count-triangles';
import type { Stored } from '@cast-to-last/runtime/artifacts/artifacts';
import { uploads } from '@cast-to-last/runtime/records/working-tables';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { Problem, conflict, notFound } from '../../http/problem.js';

/**
 * Puts an upload whose bytes are all there into the store of files, once. Not while a part comes in.
 * Throws Problem 409 where bytes are missing, or are not those that were announced: the upload is then gone; Problem 413
 * where there are too many triangles, TooLarge and NotPacked.
 */
export async function storeUpload({ records: { db }, artifacts, config }: Pick<Runtime, 'records' | 'artifacts' | 'config'>, upload: typeof uploads.$inferSelect): Promise<Stored> {
  const { id, size, particulars } = upload;
  // Another request may have stored it since the row was read.
  const [now] = await db.select({ sha256: uploads.sha256, keptSize: uploads.keptSize }).from(uploads).where(eq(uploads.id, id));
  if (now === undefined) throw notFound('upload');
  if (now.sha256 !== null) return { sha256: now.sha256, size: now.keptSize ?? size };
  const received = await artifacts.received(id);
  if (received !== size) throw conflict('upload-not-whole', `${received} of ${size} bytes are there.`, 'Send the others first.', { received });
  const stored = await artifacts.finishParts(id, { encoding: particulars.encoding === 'gzip' ? 'gzip' : undefined, maxBytes: config.uploadMaxBytes, see: refuseTooMany(config.uploadMaxTriangles) });
  if (particulars.sha256 !== undefined && particulars.sha256 !== stored.sha256) {
    await db.delete(uploads).where(eq(uploads.id, id));
    throw conflict('other-bytes', 'The bytes that arrived are not those that were announced.', 'Upload the file again.');
  }
  await db.update(uploads).set({ sha256: stored.sha256, keptSize: stored.size }).where(eq(uploads.id, id));
  return stored;
}

/** Counts triangles while bytes come in. Throws Problem 413 as soon as there are too many. */
export function refuseTooMany(most: number): (chunk: Uint8Array) => void {
  const counter = countTriangles();
  return (chunk) => {
    if (counter.see(chunk) > most) throw new Problem(413, 'too-many-triangles', `Scans of more than ${most} triangles are not taken.`, 'Reduce the scan in the scanning program, for example to 500,000 triangles.');
  };
}

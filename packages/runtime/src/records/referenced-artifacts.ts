import { isNotNull } from 'drizzle-orm';
import type { Db, Tx } from './database.js';
import { casts, revisions, scannerChecks, scans } from './schema.js';
import { comparisons, jobs, uploads } from './working-tables.js';

/** The digest of every file that a row names. */
export async function referencedArtifacts(db: Db | Tx): Promise<Set<string>> {
  const digests = new Set<string>();
  for (const { sha256 } of await db.select({ sha256: scans.sha256 }).from(scans)) digests.add(sha256);
  for (const { content } of await db.select({ content: scannerChecks.content }).from(scannerChecks)) digests.add(content.scan.sha256);
  for (const { sha256 } of await db.select({ sha256: uploads.sha256 }).from(uploads)) if (sha256 !== null) digests.add(sha256);
  const lists = [
    ...(await db.select({ files: casts.photos }).from(casts)),
    ...(await db.select({ files: revisions.files }).from(revisions)),
    ...(await db.select({ files: comparisons.files }).from(comparisons)),
    ...(await db.select({ files: jobs.preview }).from(jobs).where(isNotNull(jobs.preview))),
  ];
  for (const { files } of lists) for (const { sha256 } of files ?? []) digests.add(sha256);
  return digests;
}

import { and, asc, eq, inArray, isNotNull, lt, or } from 'drizzle-orm';
import type { Artifacts } from '../artifacts/artifacts.js';
import type { Blobs } from '../artifacts/blobs.js';
import type { ChangeDraft } from './changes/change.js';
import { contentOf, rowIdOf } from './changes/entry.js';
import type { Actor, ContentRow, Entry } from './changes/entry.js';
import type { Tx } from './database.js';
import type { Records } from './records.js';
import { referencedArtifacts } from './referenced-artifacts.js';
import { approvals, audit, auditRows, batchItems, casts, decisions, orders, revisions, scans } from './schema.js';
import type { TableName } from './schema.js';
import { comparisons, jobs, uploads } from './working-tables.js';

const ERASED = 'customer.erased';

export interface ErasureContext {
  readonly records: Records;
  readonly artifacts: Artifacts;
  readonly blobs: Blobs;
}

/**
 * Erases a customer: orders, casts, scans, results and decisions with their files, and what the audit log says of them.
 * The customer's number stays, and that this was done, by whom and when. Throws NoSuchRecord.
 */
export async function eraseCustomer(context: ErasureContext, by: Actor, customerId: string): Promise<void> {
  const { records, artifacts } = context;
  const beside = await records.change(by, ERASED, { table: 'customers', id: customerId }, async (draft) => {
    const { number } = await draft.expect('customers', customerId);
    const digests = await removeRows(draft, customerId);
    await draft.put('customers', { id: customerId, number, erasedAt: draft.at });
    return digests;
  });
  await finishErasures(context);
  const referenced = await referencedArtifacts(records.db);
  for (const sha256 of beside) if (!referenced.has(sha256)) await artifacts.remove(sha256);
}

/**
 * Takes what was erased out of audit log, change files and files; does nothing where that is done. Run at every start: an
 * erasure may have been cut off, or the database be one of an earlier day.
 */
export async function finishErasures({ records, artifacts, blobs }: ErasureContext): Promise<void> {
  let entries = 0;
  const digests = new Set<string>();
  for (const erasure of await records.db.select().from(audit).where(eq(audit.kind, ERASED)).orderBy(asc(audit.seq))) {
    for (const taken of await blankBefore(records, erasure)) {
      entries++;
      for (const sha256 of taken) digests.add(sha256);
    }
  }
  if (entries === 0) return;
  // Results of stages show the foot as well as the files do; they can be made again.
  for await (const { key } of blobs.list('cache/')) await blobs.remove(key);
  const referenced = await referencedArtifacts(records.db);
  for (const sha256 of digests) if (!referenced.has(sha256)) await artifacts.remove(sha256);
}

/** Gives the digests of files that no change names: those of comparisons and of scans that were coming in. */
async function removeRows({ tx, remove }: ChangeDraft, customerId: string): Promise<string[]> {
  const idsOf = async (rows: Promise<{ id: string }[]>): Promise<string[]> => (await rows).map(({ id }) => id);
  const orderIds = await idsOf(tx.select({ id: orders.id }).from(orders).where(eq(orders.customerId, customerId)));
  const castIds = await idsOf(tx.select({ id: casts.id }).from(casts).where(inArray(casts.orderId, orderIds)));
  const ofCasts = (table: typeof scans | typeof revisions | typeof approvals | typeof batchItems) => idsOf(tx.select({ id: table.id }).from(table).where(inArray(table.castId, castIds)));
  const scanIds = await ofCasts(scans);
  const revisionIds = await ofCasts(revisions);
  const all: readonly (readonly [TableName, readonly string[]])[] = [
    ['approvals', await ofCasts(approvals)], ['batch_items', await ofCasts(batchItems)], ['revisions', revisionIds],
    ['decisions', await idsOf(tx.select({ id: decisions.id }).from(decisions).where(inArray(decisions.scanId, scanIds)))],
    ['scans', scanIds], ['casts', castIds], ['orders', orderIds],
  ];
  for (const [table, ids] of all) for (const id of ids) await remove(table, id);
  return stopWork(tx, { revisionIds, castIds, orderIds });
}

/** A worker that is at it finds its job gone and its result taken by nobody. */
async function stopWork(tx: Tx, { revisionIds, castIds, orderIds }: Readonly<Record<'revisionIds' | 'castIds' | 'orderIds', string[]>>): Promise<string[]> {
  const ended = await tx.delete(jobs).where(inArray(jobs.subjectId, revisionIds)).returning({ files: jobs.preview });
  const dropped = await tx.delete(uploads).where(or(inArray(uploads.castId, castIds), inArray(uploads.orderId, orderIds))).returning({ sha256: uploads.sha256 });
  const compared = await tx.delete(comparisons).where(or(inArray(comparisons.firstRevisionId, revisionIds), inArray(comparisons.secondRevisionId, revisionIds))).returning({ files: comparisons.files });
  return [...dropped.flatMap(({ sha256 }) => sha256 ?? []), ...[...ended, ...compared].flatMap(({ files }) => (files ?? []).map(({ sha256 }) => sha256))];
}

/**
 * Takes the erased rows out of the entries before the erasure; for each entry that had any, the digests of the files that
 * these rows named. The change file goes first: an entry without salt has a file without it.
 */
async function blankBefore({ db, files }: Records, erasure: Entry): Promise<string[][]> {
  const gone = new Set(contentOf(erasure).rows.map(nameOf));
  const ids = contentOf(erasure).rows.map(rowIdOf);
  const seqs = db.select({ seq: auditRows.seq }).from(auditRows).where(inArray(auditRows.rowId, ids));
  const entries = await db.select().from(audit).where(and(lt(audit.seq, erasure.seq), isNotNull(audit.salt), inArray(audit.seq, seqs)));
  const taken: string[][] = [];
  for (const entry of entries) {
    const { rows } = contentOf(entry);
    taken.push(rows.filter((row) => gone.has(nameOf(row))).flatMap(digestsIn));
    const content = JSON.stringify({ rows: rows.filter((row) => !gone.has(nameOf(row))) });
    await files.write({ ...entry, content, salt: null });
    await db.update(audit).set({ content, salt: null }).where(eq(audit.seq, entry.seq));
  }
  return taken;
}

/** Digests of the files that a row of scans, casts or revisions names. */
function digestsIn(row: ContentRow): string[] {
  if ('remove' in row || !['scans', 'casts', 'revisions'].includes(row.table)) return [];
  const { sha256, photos, files } = row.put as { sha256?: string; photos?: { sha256: string }[]; files?: { sha256: string }[] };
  return [...(sha256 === undefined ? [] : [sha256]), ...[...(photos ?? []), ...(files ?? [])].map((file) => file.sha256)];
}

const nameOf = (row: ContentRow): string => `${row.table} ${rowIdOf(row)}`;

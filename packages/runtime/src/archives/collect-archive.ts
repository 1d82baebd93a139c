import { asc, eq, inArray } from 'drizzle-orm';
import type { Db } from '../records/database.js';
import { approvals, audit, auditRows, casts, customers, decisions, orders, people, revisions, ruleSets, scans } from '../records/schema.js';
import type { RowOf } from '../records/schema.js';
import { PROGRAM_VERSION } from '../program-version.js';
import type { ArchiveManifest, ArchivedFile, ArchivedRows } from './archive-manifest.js';

/** One order for another workshop: of the customer the number alone. Null where there is no such order. */
export async function orderArchive(db: Db, orderId: string): Promise<ArchiveManifest | null> {
  const [order] = await db.select().from(orders).where(eq(orders.id, orderId));
  if (order === undefined) return null;
  const theirs = order.customerId === null ? [] : await db.select().from(customers).where(eq(customers.id, order.customerId));
  const numbered = theirs.map((customer) => ({ ...customer, name: null, contact: null, consent: null, retainUntil: null }));
  return manifestOf('order', await rowsOf(db, numbered, [order]), await peopleOf(db), []);
}

/** All that is kept of one customer, what was done with it among it. Null where there is no such customer. */
export async function customerArchive(db: Db, customerId: string): Promise<ArchiveManifest | null> {
  const [customer] = await db.select().from(customers).where(eq(customers.id, customerId));
  if (customer === undefined) return null;
  const rows = await rowsOf(db, [customer], await db.select().from(orders).where(eq(orders.customerId, customerId)).orderBy(asc(orders.createdAt)));
  return manifestOf('customer', rows, await peopleOf(db), await historyOf(db, rows));
}

async function rowsOf(db: Db, theirs: readonly RowOf<'customers'>[], their: readonly RowOf<'orders'>[]): Promise<ArchivedRows> {
  const castRows = await db.select().from(casts).where(inArray(casts.orderId, their.map(({ id }) => id))).orderBy(asc(casts.createdAt));
  const castIds = castRows.map(({ id }) => id);
  const scanRows = await db.select().from(scans).where(inArray(scans.castId, castIds)).orderBy(asc(scans.createdAt));
  // What is still being made is not there yet.
  const made = (await db.select().from(revisions).where(inArray(revisions.castId, castIds)).orderBy(asc(revisions.castId), asc(revisions.number))).filter(({ state }) => state !== 'waiting');
  const known = new Set(made.map(({ id }) => id));
  return {
    customers: theirs,
    orders: their,
    casts: castRows,
    scans: scanRows,
    rule_sets: await db.select().from(ruleSets).where(inArray(ruleSets.id, [...new Set(made.map(({ ruleSetId }) => ruleSetId))])),
    decisions: await db.select().from(decisions).where(inArray(decisions.scanId, scanRows.map(({ id }) => id))),
    revisions: made,
    approvals: (await db.select().from(approvals).where(inArray(approvals.castId, castIds)).orderBy(asc(approvals.createdAt))).filter(({ revisionId }) => known.has(revisionId)),
  };
}

const peopleOf = (db: Db): Promise<{ id: string; displayName: string }[]> => db.select({ id: people.id, displayName: people.displayName }).from(people);

async function historyOf(db: Db, rows: ArchivedRows): Promise<ArchiveManifest['history']> {
  const ids = [rows.customers, rows.orders, rows.casts, rows.scans, rows.revisions, rows.approvals].flatMap((of: readonly { readonly id: string }[]) => of.map(({ id }) => id));
  const entries = await db.select({ at: audit.at, kind: audit.kind, by: audit.actorKind }).from(audit)
    .where(inArray(audit.seq, db.select({ seq: auditRows.seq }).from(auditRows).where(inArray(auditRows.rowId, ids)))).orderBy(asc(audit.seq));
  return entries;
}

function manifestOf(what: ArchiveManifest['what'], rows: ArchivedRows, all: ArchiveManifest['people'], history: ArchiveManifest['history']): ArchiveManifest {
  const named = new Set([...rows.scans, ...rows.decisions, ...rows.approvals].map(({ personId }) => personId));
  return {
    schema: 1, what, exportedAt: new Date().toISOString(), program: { version: PROGRAM_VERSION }, rows,
    people: all.filter(({ id }) => named.has(id)), files: filesOf(rows), history,
  };
}

/** Every file under a name that says what it is; the first of several names counts. */
function filesOf(rows: ArchivedRows): ArchivedFile[] {
  const files = new Map<string, ArchivedFile>();
  const taken = new Set<string>();
  const add = (folder: string, { name, sha256, size }: { readonly name: string; readonly sha256: string; readonly size: number }): void => {
    if (files.has(sha256)) return;
    const [stem, ending] = splitName(plain(name));
    let path = `${folder}/${stem}${ending}`;
    for (let n = 2; taken.has(path); n++) path = `${folder}/${stem}-${n}${ending}`;
    taken.add(path);
    files.set(sha256, { path, sha256, size });
  };
  for (const order of rows.orders) {
    rows.casts.filter(({ orderId }) => orderId === order.id).forEach((cast, i) => {
      const folder = `order-${plain(order.number)}/cast-${i + 1}-${cast.side}`;
      for (const photo of cast.photos) add(`${folder}/photos`, photo);
      for (const scan of rows.scans) if (scan.castId === cast.id) add(`${folder}/scans`, { name: scan.fileName, sha256: scan.sha256, size: scan.size });
      for (const revision of rows.revisions) if (revision.castId === cast.id) for (const file of revision.files) add(`${folder}/revision-${revision.number}`, file);
    });
  }
  return [...files.values()];
}

/** A name that every file system takes. */
const plain = (name: string): string => name.replaceAll(/[^\w.-]+/g, '-').replace(/^[.-]+/, '').slice(0, 100) || 'file';

function splitName(name: string): [string, string] {
  const dot = name.lastIndexOf('.');
  return dot <= 0 ? [name, ''] : [name.slice(0, dot), name.slice(dot)];
}

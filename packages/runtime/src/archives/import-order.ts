import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import type { ChangeDraft } from '../records/changes/change.js';
import type { Actor } from '../records/changes/entry.js';
import type { Records } from '../records/records.js';
import { PUT_TABLES, customers, orders, ruleSets } from '../records/schema.js';
import type { RowOf } from '../records/schema.js';
import { fingerprintOf } from '../revisions/revision-ended.js';
import type { ArchiveManifest, ArchivedRows } from './archive-manifest.js';
import { BadArchive } from './bad-archive.js';

/** Rules that came with an order are kept under names of their own, so that they do not become the workshop's. */
export const IMPORTED_PREFIX = 'imported ';

export interface Imported {
  readonly orderId: string;
  /** False where the order was there already: nothing was changed then. */
  readonly imported: boolean;
}

/**
 * Takes over an order from an archive whose files are in the store already, in one change: its rows keep their ids, so an
 * archive that comes twice is one order. Throws BadArchive, and the database's error where another order has its number.
 */
export async function importOrder(records: Records, by: Actor, manifest: ArchiveManifest): Promise<Imported> {
  const { rows } = manifest;
  if (manifest.what !== 'order' || rows.orders.length !== 1) throw new BadArchive('It is not the archive of one order.');
  refuseStrays(rows);
  const [order] = rows.orders;
  return records.change(by, 'order.imported', { table: 'orders', id: order.id }, async (draft) => {
    const [there] = await draft.tx.select({ id: orders.id }).from(orders).where(eq(orders.id, order.id));
    if (there !== undefined) return { orderId: order.id, imported: false };
    await refuseKnownRows(draft, rows);
    const customerId = await customerOf(draft, rows.customers[0]);
    await draft.put('orders', { ...order, customerId }, order.createdAt);
    const rulesOf = new Map<string, string>();
    for (const rules of rows.rule_sets) rulesOf.set(rules.id, await rulesHere(draft, rules));
    for (const cast of rows.casts) await draft.put('casts', { ...cast, state: stateOf(cast) }, cast.createdAt);
    for (const scan of rows.scans) await draft.put('scans', { ...scan, scannerId: null }, scan.createdAt);
    for (const decided of rows.decisions) await draft.put('decisions', decided, decided.createdAt);
    for (const revision of rows.revisions) await draft.put('revisions', { ...revision, ruleSetId: rulesOf.get(revision.ruleSetId) ?? '', origin: 'import', batchId: null }, revision.createdAt);
    for (const approval of rows.approvals) await draft.put('approvals', approval, approval.createdAt);
    return { orderId: order.id, imported: true };
  });
}

/** Every row belongs to the order and is there once. */
function refuseStrays({ customers: theirs, orders: [order], casts, scans, rule_sets: rules, decisions, revisions: made, approvals }: ArchivedRows): void {
  const ids = (of: readonly { readonly id: string }[]): Set<string> => new Set(of.map(({ id }) => id));
  const [castIds, scanIds, ruleIds, decisionIds, revisionIds] = [casts, scans, rules, decisions, made].map(ids);
  const isHere = (known: ReadonlySet<string>, id: string | null): boolean => id === null || known.has(id);
  const whole =
    [casts, scans, rules, decisions, made, approvals].every((rows) => ids(rows).size === rows.length) && theirs.length <= 1 && isHere(ids(theirs), order.customerId) &&
    casts.every((c) => c.orderId === order.id && isHere(castIds, c.recastOfId) && isHere(revisionIds, c.currentRevisionId) && isHere(revisionIds, c.approvedRevisionId)) &&
    scans.every(({ castId }) => castIds.has(castId)) && decisions.every(({ scanId }) => scanIds.has(scanId)) &&
    made.every((r) => castIds.has(r.castId) && scanIds.has(r.scanId) && ruleIds.has(r.ruleSetId) && isHere(decisionIds, r.decisionsId)) &&
    approvals.every((a) => castIds.has(a.castId) && revisionIds.has(a.revisionId));
  if (!whole) throw new BadArchive('Its rows do not belong together.');
  // An approval is given to a fingerprint: it has to be that of the files that came.
  const other = made.find(({ state, inputsSha256, programVersion, files, fingerprint }) => state === 'done' && fingerprint !== fingerprintOf(inputsSha256, programVersion ?? '', { files }));
  if (other !== undefined) throw new BadArchive(`The files of revision ${other.number} are not those of its fingerprint.`);
}

/** An archive that bears the id of another row's must not put itself over it. */
async function refuseKnownRows({ tx }: ChangeDraft, rows: ArchivedRows): Promise<void> {
  for (const table of ['casts', 'scans', 'decisions', 'revisions', 'approvals'] as const) {
    for (const { id } of rows[table]) {
      const known = PUT_TABLES[table];
      const [there] = await tx.select({ id: known.id }).from(known).where(eq(known.id, id));
      if (there !== undefined) throw new BadArchive(`Its ${table} bear the id of one that is here and belongs to another order.`);
    }
  }
}

/** The customer of the same number here, else a new one with nothing but the number. */
async function customerOf(draft: ChangeDraft, customer: RowOf<'customers'> | undefined): Promise<string | null> {
  if (customer === undefined) return null;
  const [same] = await draft.tx.select({ id: customers.id }).from(customers).where(eq(customers.number, customer.number));
  return same?.id ?? (await draft.put('customers', { id: randomUUID(), number: customer.number })).id;
}

/** The same rules here, whatever they are called, else a copy under a name of its own. */
async function rulesHere(draft: ChangeDraft, { name, content, sha256, note }: RowOf<'rule_sets'>): Promise<string> {
  const [same] = await draft.tx.select({ id: ruleSets.id }).from(ruleSets).where(eq(ruleSets.sha256, sha256));
  return same?.id ?? (await draft.put('rule_sets', { id: randomUUID(), name: `${IMPORTED_PREFIX}${sha256.slice(0, 12)} ${name}`, number: 1, content, sha256, note })).id;
}

/** What is being made elsewhere is not being made here. */
const stateOf = ({ state, currentRevisionId }: RowOf<'casts'>): RowOf<'casts'>['state'] => (state !== 'in-work' ? state : currentRevisionId === null ? 'awaiting-scan' : 'to-review');

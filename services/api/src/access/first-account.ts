import { randomUUID } from 'node:crypto';
import { and, eq, isNull } from 'drizzle-orm';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import type { Db, Tx } from '@cast-to-last/runtime/records/database';
import type { Records } from '@cast-to-last/runtime/records/records';
import { people, tokens } from '@cast-to-last/runtime/records/schema';
import { digestOf, newSecret } from './secrets.js';
import { PROGRAM } from '@cast-to-last/runtime/records/changes/entry';

/** The link holds for a day, or until another one is offered. */
const HOLDS_MS = 24 * 3_600_000;

export async function hasAccounts(db: Db | Tx): Promise<boolean> {
  return (await db.select({ id: people.id }).from(people).limit(1)).length > 0;
}

const openLinks = (tx: Db | Tx) => tx.select().from(tokens).where(and(eq(tokens.scope, 'first-account'), isNull(tokens.revokedAt)));

/** Whether a link by which the first account can be made still holds. */
export async function hasOpenLink(db: Db): Promise<boolean> {
  const now = new Date().toISOString();
  return (await openLinks(db)).some(({ expiresAt }) => expiresAt === null || expiresAt >= now);
}

/** The secret of a new one-time link by which the first account is made; null where there are accounts. Links of earlier starts no longer hold. */
export async function offerFirstAccount(records: Records): Promise<string | null> {
  if (await hasAccounts(records.db)) return null;
  const secret = newSecret();
  const id = randomUUID();
  await records.change(PROGRAM, 'first-account.offered', { table: 'tokens', id }, async (draft) => {
    for (const link of await openLinks(draft.tx)) await draft.put('tokens', { ...link, revokedAt: draft.at });
    await draft.put('tokens', { id, name: 'first account', scope: 'first-account', sha256: digestOf(secret), expiresAt: new Date(Date.parse(draft.at) + HOLDS_MS).toISOString() });
  });
  return secret;
}

/** Uses up the link; whether it held. */
export async function takeFirstAccount(draft: ChangeDraft, secret: string): Promise<boolean> {
  const link = (await openLinks(draft.tx)).find(({ sha256 }) => sha256 === digestOf(secret));
  if (link === undefined || (link.expiresAt !== null && link.expiresAt < draft.at)) return false;
  if (await hasAccounts(draft.tx)) return false;
  await draft.put('tokens', { ...link, revokedAt: draft.at });
  return true;
}

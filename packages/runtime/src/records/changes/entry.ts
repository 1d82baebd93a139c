import { randomBytes, randomUUID } from 'node:crypto';
import { canonicalJson, jsonSha256, sha256 } from '@cast-to-last/pipeline/digest';
import type { audit } from '../schema.js';
import type { TableName } from '../schema.js';

/** One entry of the audit log, in the database and as a change file. */
export type Entry = typeof audit.$inferSelect;

/** Who did it; `program` is the service itself, as at the end of a job. */
export interface Actor {
  readonly kind: Entry['actorKind'];
  readonly id: string | null;
}

/** The service itself. */
export const PROGRAM: Actor = { kind: 'program', id: null };

/** All that a change does: whole rows to put, ids of rows to take away. Applied in order. */
export interface Content {
  readonly rows: readonly ContentRow[];
}

export type ContentRow =
  | { readonly table: TableName; readonly put: Readonly<Record<string, unknown>> & { readonly id: string } }
  | { readonly table: TableName; readonly remove: string };

export interface Subject {
  readonly table: TableName;
  readonly id: string;
}

/** What stands before the first entry. */
export const BEGINNING: Pick<Entry, 'seq' | 'sha256'> = { seq: 0, sha256: '0'.repeat(64) };

/** The entry after `previous`. The salt keeps what is erased later from being guessed by its hash. */
export function nextEntry(previous: Pick<Entry, 'seq' | 'sha256'>, at: string, by: Actor, kind: string, subject: Subject, content: Content): Entry {
  const salt = randomBytes(16).toString('hex');
  const text = canonicalJson(content);
  const open = {
    seq: previous.seq + 1, id: randomUUID(), at, actorKind: by.kind, actorId: by.id, kind, subjectTable: subject.table, subjectId: subject.id,
    contentSha256: sha256(salt + text), previousSha256: previous.sha256,
  };
  return { ...open, sha256: hashOf(open), content: text, salt };
}

const hashOf = ({ seq, id, at, actorKind, actorId, kind, subjectTable, subjectId, contentSha256, previousSha256 }: Omit<Entry, 'sha256' | 'content' | 'salt'>): string =>
  jsonSha256({ seq, id, at, actorKind, actorId, kind, subjectTable, subjectId, contentSha256, previousSha256 });

/** Whether an entry is whole and follows `previous`; the content of one that was erased in part cannot be judged. */
export function isSound(entry: Entry, previous: Pick<Entry, 'seq' | 'sha256'>): boolean {
  return (
    entry.seq === previous.seq + 1 && entry.previousSha256 === previous.sha256 && entry.sha256 === hashOf(entry) &&
    (entry.salt === null || entry.contentSha256 === sha256(entry.salt + entry.content))
  );
}

export const contentOf = (entry: Pick<Entry, 'content'>): Content => JSON.parse(entry.content);

/** The id of the row that is put or taken away. */
export const rowIdOf = (row: ContentRow): string => ('remove' in row ? row.remove : row.put.id);

import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/**
 * Records as the first version of the tables held them. first-version.json was written once, by the code of entries and
 * passwords of that version, and is never written anew: what it holds has to be taken by every later version.
 */
interface FirstVersion {
  readonly files: Readonly<Record<string, string>>;
  readonly entries: readonly FirstEntry[];
}

interface FirstEntry {
  readonly seq: number;
  readonly content: string;
  readonly [column: string]: unknown;
}

interface Put {
  readonly table: string;
  readonly put: Readonly<Record<string, unknown>> & { readonly id: string };
}

/** Runs SQL of the first version: PGlite and pg both do. */
export type Query = (text: string, values?: unknown[]) => Promise<unknown>;

const HERE = new URL('.', import.meta.url);
const MIGRATIONS = new URL('../../../packages/runtime/migrations/', HERE);
const FIRST: FirstVersion = JSON.parse(readFileSync(new URL('first-version.json', HERE), 'utf8'));
export const SCAN = new URL('../../../sample-meshes/2044-left.stl', HERE);

export const PASSWORD = 'plaster of the third day';
export const TOKEN = 'token-of-the-first-version';

const putsOf = (entry: FirstEntry): readonly Put[] => JSON.parse(entry.content).rows;

/** The rows of each table as the last change left them. */
export function rowsThen(): Map<string, Map<string, Put['put']>> {
  const tables = new Map<string, Map<string, Put['put']>>();
  for (const { table, put } of FIRST.entries.flatMap(putsOf)) tables.set(table, (tables.get(table) ?? new Map()).set(put.id, put));
  return tables;
}

/** Change files and stored files, as they lie in a data folder. */
export function writeFiles(dataFolder: string): void {
  const write = (path: string, bytes: Uint8Array): void => {
    const whole = join(dataFolder, 'files', path);
    mkdirSync(dirname(whole), { recursive: true });
    writeFileSync(whole, bytes);
  };
  for (const entry of FIRST.entries) write(`changes/000000000/${String(entry.seq).padStart(12, '0')}.json`, Buffer.from(`${JSON.stringify(entry)}\n`));
  for (const bytes of [...Object.values(FIRST.files).map((text) => Buffer.from(text, 'base64')), readFileSync(SCAN)]) {
    const digest = createHash('sha256').update(bytes).digest('hex');
    write(`artifacts/${digest.slice(0, 2)}/${digest}`, bytes);
  }
}

/** A folder of migrations with the first one alone. */
export function firstMigration(folder: string): string {
  const journal = JSON.parse(readFileSync(new URL('meta/_journal.json', MIGRATIONS), 'utf8'));
  const [first] = journal.entries;
  mkdirSync(join(folder, 'meta'), { recursive: true });
  copyFileSync(new URL(`${first.tag}.sql`, MIGRATIONS), join(folder, `${first.tag}.sql`));
  writeFileSync(join(folder, 'meta/_journal.json'), JSON.stringify({ ...journal, entries: [first] }));
  return folder;
}

const snake = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
const JSON_COLUMNS = new Set(['consent', 'content', 'drying', 'photos', 'filter', 'comparison', 'files', 'summary', 'refusal', 'story', 'particulars', 'progress', 'preview']);

/** Puts a row into every table of the first version; those beside the changes hold a job that waits, a session and an upload. */
export async function fillFirstTables(query: Query, { secret, digest }: { readonly secret: string; readonly digest: (secret: string) => string }): Promise<void> {
  const insert = async (table: string, row: Readonly<Record<string, unknown>>): Promise<void> => {
    const columns = Object.keys(row);
    const values = columns.map((column) => (JSON_COLUMNS.has(column) && table !== 'audit' && row[column] !== null ? JSON.stringify(row[column]) : row[column]));
    await query(`insert into "${table}" (${columns.map((column) => `"${snake(column)}"`).join(', ')}) values (${columns.map((_, i) => `$${i + 1}`).join(', ')})`, values);
  };
  for (const [table, rows] of rowsThen()) for (const row of rows.values()) await insert(table, row);
  for (const entry of FIRST.entries) {
    await insert('audit', entry);
    for (const key of new Set(putsOf(entry).map(({ table, put }) => `${table} ${put.id}`))) {
      const [tableName, rowId] = key.split(' ');
      await insert('audit_rows', { seq: entry.seq, tableName, rowId });
    }
  }
  const [person] = rowsThen().get('people')?.keys() ?? [];
  const waiting = [...(rowsThen().get('revisions')?.values() ?? [])].find(({ state }) => state === 'waiting');
  const cast = [...(rowsThen().get('casts')?.values() ?? [])].find(({ state }) => state === 'approved');
  const [now, later] = [0, 86_400_000].map((ms) => new Date(Date.now() + ms).toISOString());
  await insert('lanes', { name: 'people', turn: 3, paused: false });
  await insert('jobs', { id: 'job-of-then', kind: 'cast', subjectId: waiting?.id, priority: 0, lane: 'people', state: 'waiting', notBefore: now, story: [], createdAt: now });
  await insert('sessions', { id: 'session-of-then', sha256: digest(secret), personId: person, csrf: 'csrf-of-then', createdAt: now, seenAt: now, expiresAt: later });
  await insert('sign_in_tries', { key: 'name:someone', count: 2, since: now, blockedUntil: null });
  await insert('uploads', { id: UPLOAD, castId: cast?.id, fileName: 'again.stl', size: readFileSync(SCAN).length, received: 0, particulars: { kind: 'positive', unit: 'auto', sideOverride: false }, personId: person, createdAt: now, expiresAt: later });
}

export const UPLOAD = '00000000-0000-4000-8000-000000000099';

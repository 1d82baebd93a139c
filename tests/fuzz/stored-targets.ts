import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serialize } from 'node:v8';
import { gzipSync } from 'node:zlib';
import { BadArchive } from '@cast-to-last/runtime/archives/bad-archive';
import { importOrder } from '@cast-to-last/runtime/archives/import-order';
import { parseManifest } from '@cast-to-last/runtime/archives/parse-manifest';
import { readArchive } from '@cast-to-last/runtime/archives/read-archive';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import type { Store } from '@cast-to-last/runtime/artifacts/open-store';
import { DamagedArtifact, NotPacked } from '@cast-to-last/runtime/artifacts/refusals';
import { unpacked } from '@cast-to-last/runtime/artifacts/unfinished';
import { backUp } from '@cast-to-last/runtime/backup/back-up';
import { CannotRestore, restore } from '@cast-to-last/runtime/backup/restore';
import { ConfigError, VARIABLES, readConfig } from '@cast-to-last/runtime/config';
import { DamagedChangeFile, changeFileKey, openChangeFiles } from '@cast-to-last/runtime/records/changes/change-files';
import { BEGINNING, isSound, nextEntry } from '@cast-to-last/runtime/records/changes/entry';
import { openRecords } from '@cast-to-last/runtime/records/records';
import type { Records } from '@cast-to-last/runtime/records/records';
import { openStageCache } from '@cast-to-last/runtime/revisions/stage-cache';
import { mutate } from '../support/mutate.js';
import { QUIET } from '../support/quiet-log.js';
import type { Rng } from '../support/rng.js';
import { soundArchive } from '../support/sound-archive.js';
import { woundJson } from '../support/wound-json.js';
import { zipOf } from '../support/zip-of.js';
import { mayThrow } from './target.js';
import type { Target } from './target.js';

const utf8 = new TextEncoder();
const jsonBytes = (value: unknown): Uint8Array => utf8.encode(JSON.stringify(value));

interface Place extends Store {
  readonly folder: string;
  readonly records: () => Promise<Records>;
  close(): Promise<void>;
}

let opened: Promise<Place> | null = null;
const place = (): Promise<Place> => (opened ??= openPlace());

/** A store of files and, once they are asked for, records, in a folder of their own. */
async function openPlace(): Promise<Place> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-fuzz-'));
  const store = await openStore({ dataFolder: folder, objectStore: null });
  let records: Promise<Records> | null = null;
  return {
    ...store, folder,
    records: () => (records ??= openRecords({ config: { dataFolder: folder, databaseUrl: null }, log: QUIET, blobs: store.blobs })),
    close: async () => {
      await (await records)?.close();
      rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
    },
  };
}

async function letGo(): Promise<void> {
  const here = opened;
  opened = null;
  await (await here)?.close();
}

/** Ids that no archive before had, or nothing of it would be put. */
const freshIds = (random: Rng): ((nth: number) => string) => {
  const begin = Array.from({ length: 8 }, () => random.below(16).toString(16)).join('');
  return (nth) => `${begin}-0000-4000-8000-${String(nth).padStart(12, '0')}`;
};

async function inFile<T>(bytes: Uint8Array, use: (path: string) => Promise<T>): Promise<T> {
  const path = join((await place()).folder, randomUUID());
  writeFileSync(path, bytes);
  try {
    return await use(path);
  } finally {
    rmSync(path);
  }
}

const read = async (bytes: Uint8Array) => inFile(bytes, async (path) => readArchive(path, (await place()).artifacts, { maxBytes: 1e6 }));

/** The bytes of the zip file wounded, or one of the files in it. */
const archive: Target = {
  name: 'archive', limitMs: 2000,
  make: async (random) => {
    const { manifest, files } = soundArchive(freshIds(random), '4107');
    const parts = new Map([['manifest.json', jsonBytes(manifest)], ...files]);
    if (random.next() < 0.5) return mutate(await zipOf(parts, random.next() < 0.5), await zipOf(parts, true), random);
    const name = [...parts.keys()][random.below(parts.size)];
    const part = parts.get(name) as Uint8Array;
    parts.set(name, mutate(part, part, random));
    return zipOf(parts, true);
  },
  take: (bytes) => mayThrow([BadArchive], () => read(bytes)),
};

/** A whole archive whose manifest says other things, up to the rows in the database. */
const archiveImport: Target = {
  name: 'import', limitMs: 5000,
  make: async (random) => {
    // Opened here, for the first opening takes seconds that are not the archive's.
    await (await place()).records();
    const { manifest, files } = soundArchive(freshIds(random), `4107-${random.below(1e9)}`);
    return zipOf([['manifest.json', jsonBytes(woundJson(manifest, random))], ...files], false);
  },
  take: (bytes) => mayThrow([BadArchive], async () => {
    const manifest = await read(bytes);
    try {
      await importOrder(await (await place()).records(), { kind: 'person', id: 'p-1' }, manifest);
    } catch (error) {
      // Another one has the number: the service tells of that in words of its own.
      if ((error as { cause?: { code?: string } }).cause?.code !== '23505') throw error;
    }
  }),
};

const manifestAlone: Target = {
  name: 'manifest', limitMs: 2000,
  make: (random) => {
    const { manifest } = soundArchive(freshIds(random), '4107');
    const bytes = jsonBytes(woundJson(manifest, random));
    return random.next() < 0.5 ? bytes : mutate(bytes, bytes, random);
  },
  take: (bytes) => mayThrow([BadArchive], () => parseManifest(bytes)),
};

const anEntry = nextEntry(BEGINNING, '2026-03-04T05:06:07.890Z', { kind: 'person', id: 'p-1' }, 'customer.added', { table: 'customers', id: 'c-1' }, { rows: [{ table: 'customers', put: { id: 'c-1', number: 'K-1' } }] });

const changeFile: Target = {
  name: 'change-file', limitMs: 1000,
  make: (random) => (random.next() < 0.5 ? mutate(jsonBytes(anEntry), jsonBytes(anEntry), random) : jsonBytes(woundJson(anEntry, random))),
  take: (bytes) => mayThrow([DamagedChangeFile], async () => {
    const { blobs } = await place();
    await blobs.put(changeFileKey(999_001), bytes, { durable: false });
    const entry = await openChangeFiles(blobs).read(999_001);
    if (entry !== null) isSound(entry, BEGINNING);
    await blobs.remove(changeFileKey(999_001));
  }),
};

/** A backup of one change whose note or change was damaged on its disk. */
const backup: Target = {
  name: 'backup', limitMs: 2000,
  make: (random) => {
    const [note, entry] = [{ schema: 1, at: anEntry.at, changes: { last: 1, sha256: anEntry.sha256 }, artifacts: { count: 0, bytes: 0 } }, anEntry];
    const wounded = (value: unknown): string => Buffer.from(random.next() < 0.5 ? jsonBytes(woundJson(value, random)) : mutate(jsonBytes(value), jsonBytes(value), random)).toString('base64');
    const whole = (value: unknown): string => Buffer.from(jsonBytes(value)).toString('base64');
    return jsonBytes(random.next() < 0.7 ? [wounded(note), whole(entry)] : [whole(note), wounded(entry)]);
  },
  take: async (bytes) => {
    const here = mkdtempSync(join((await place()).folder, 'backup-'));
    try {
      const from = await openStore({ dataFolder: join(here, 'from'), objectStore: null });
      const to = await openStore({ dataFolder: join(here, 'to'), objectStore: null });
      await backUp(from, join(here, 'kept'));
      const [note, entry] = (JSON.parse(Buffer.from(bytes).toString()) as [string, string]).map((text) => Buffer.from(text, 'base64'));
      writeFileSync(join(here, 'kept', 'backup.json'), note);
      await from.blobs.put(changeFileKey(1), entry, { durable: false });
      await (await openStore({ dataFolder: here, objectStore: null })).blobs.put(changeFileKey(1), entry, { durable: false });
      await mayThrow([CannotRestore, DamagedArtifact, DamagedChangeFile], () => restore(to, join(here, 'kept')));
    } finally {
      rmSync(here, { recursive: true, force: true });
    }
  },
};

const packed: Target = {
  name: 'gzip', limitMs: 2000,
  make: (random) => {
    const bytes = gzipSync(Buffer.alloc(3000, 'a facet of a scan '));
    return mutate(new Uint8Array(bytes), new Uint8Array(bytes), random);
  },
  take: (bytes) => mayThrow([NotPacked], () => inFile(bytes, async (path) => {
    for await (const chunk of unpacked(path)) if (chunk.length > 1e8) throw new Error('more than it can hold');
  })),
};

const KEY = 'f0'.repeat(32);
/** A kept result: it is there whole, or it is not there. */
const cachedStage: Target = {
  name: 'stage-cache', limitMs: 1000,
  make: async (random) => {
    const { blobs } = await place();
    const cache = openStageCache(blobs, 1e9);
    cache.put(KEY, { positions: new Float64Array(30), name: 'a stage' });
    await cache.settled();
    const bytes = new Uint8Array((await blobs.bytes(`cache/${KEY.slice(0, 2)}/${KEY}`)) ?? []);
    return random.next() < 0.5 ? mutate(bytes, new Uint8Array(serialize({ a: [1] })), random) : bytes.slice(0, random.below(bytes.length));
  },
  take: async (bytes) => {
    const { blobs } = await place();
    await blobs.put(`cache/${KEY.slice(0, 2)}/${KEY}`, bytes, { durable: false });
    await openStageCache(blobs, 1e9).get(KEY);
  },
};

const SETTINGS: Readonly<Record<string, string>> = {
  CAST_DATA_FOLDER: 'data', DATABASE_URL: 'postgres://a@127.0.0.1:5432/b', REDIS_URL: 'redis://127.0.0.1:6379', S3_ENDPOINT: 'http://127.0.0.1:8080', S3_BUCKET: 'b', S3_ACCESS_KEY: 'k', S3_SECRET_KEY: 's',
  HTTP_PORT: '8080', PUBLIC_URL: 'https://casts.example', WORK: 'local', WORK_THREADS: '2', JOB_TIMEOUT_S: '300', CACHE_GB: '20', UPLOAD_MAX_MB: '500',
};
const settings: Target = {
  name: 'settings', limitMs: 1000,
  make: (random) => {
    const bytes = jsonBytes(SETTINGS);
    return mutate(bytes, jsonBytes(Object.keys(VARIABLES)), random);
  },
  take: (bytes) => mayThrow([ConfigError], () => {
    let env: Record<string, unknown>;
    try {
      env = JSON.parse(Buffer.from(bytes).toString());
    } catch {
      return;
    }
    // A system gives texts alone.
    readConfig(Object.fromEntries(Object.entries(env).map(([name, value]) => [name, String(value)])));
  }),
};

/** What takes bytes from a disk, from another workshop or from the system. */
export const STORED_TARGETS: readonly Target[] = [archive, archiveImport, manifestAlone, changeFile, backup, packed, cachedStage, settings].map((target) => ({ ...target, end: letGo }));

import { z } from 'zod';
import type { Blobs } from '../../artifacts/blobs.js';
import type { Entry } from './entry.js';

/** The audit log as files beside the database, one for each entry: what the database is made again from. */
export interface ChangeFiles {
  /** Durable once this resolves. */
  write(entry: Entry): Promise<void>;
  /** Null where there is none. Throws DamagedChangeFile where it cannot be read. */
  read(seq: number): Promise<Entry | null>;
  has(seq: number): Promise<boolean>;
  /** The highest sequence number among the files, holes or not; slow. */
  highest(): Promise<number>;
}

export class DamagedChangeFile extends Error {
  override readonly name = 'DamagedChangeFile';
}

const text = z.string();
/** What a file has to hold before its digests can be judged. */
const entry = z.object({
  seq: z.int(), id: text, at: text, actorKind: text, actorId: text.nullable(), kind: text, subjectTable: text, subjectId: text,
  contentSha256: text, previousSha256: text, sha256: text, content: text, salt: text.nullable(),
});

/** Entries a folder. */
const A_FOLDER = 1000;

const whatIsWrong = (error: Error): string =>
  error instanceof z.ZodError ? error.issues.map(({ path, message }) => `${path.join('.')} ${message}`).join('; ') : error.message;

export const changeFileKey = (seq: number): string =>
  `changes/${String(Math.floor(seq / A_FOLDER)).padStart(9, '0')}/${String(seq).padStart(12, '0')}.json`;

export function openChangeFiles(blobs: Blobs): ChangeFiles {
  return {
    write: (entry) => blobs.put(changeFileKey(entry.seq), new TextEncoder().encode(`${JSON.stringify(entry)}\n`)),
    read: async (seq) => {
      const bytes = await blobs.bytes(changeFileKey(seq));
      if (bytes === null) return null;
      try {
        return entry.parse(JSON.parse(new TextDecoder().decode(bytes))) as Entry;
      } catch (error) {
        throw new DamagedChangeFile(`The record of change ${seq} (${changeFileKey(seq)}) cannot be read: ${whatIsWrong(error as Error)}. Put it back from a backup.`);
      }
    },
    has: async (seq) => (await blobs.stat(changeFileKey(seq))) !== null,
    highest: async () => {
      let highest = 0;
      for await (const { key } of blobs.list('changes/')) highest = Math.max(highest, Number(/(\d+)\.json$/.exec(key)?.[1] ?? 0));
      return highest;
    },
  };
}

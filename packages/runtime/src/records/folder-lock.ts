import { randomUUID } from 'node:crypto';
import { linkSync, mkdirSync, readFileSync, readdirSync, readlinkSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/** Another program owns the folder. */
export class FolderInUse extends Error {
  override readonly name = 'FolderInUse';
}

export interface FolderLock {
  release(): void;
}

/** An owner says that it lives so often, and one that cannot be looked up is dead after so long without a word. */
export const LOCK_BEAT_MS = { says: 2000, deadAfter: 10_000 };

/** Who holds the folder. Within one boot and process space a process id with its start time means one process for ever. */
interface Owner {
  readonly pid: number;
  readonly startedAt: string | null;
  readonly boot: string | null;
  readonly processSpace: string | null;
  readonly host: string;
  readonly released: boolean;
}

/**
 * Owns a folder for this process until `release` or the process's end, however it ends.
 *
 * Owners are numbered files, each linked into place whole; the highest number counts. A new owner takes the next number
 * only where the owner before it is dead, so of two that see the same dead owner one finds the number taken. One that
 * came late, after its number was used and cleared away, sees a higher one and steps back.
 *
 * Throws FolderInUse where another process owns it.
 */
export async function lockFolder(folder: string, { deadAfter } = LOCK_BEAT_MS): Promise<FolderLock> {
  mkdirSync(folder, { recursive: true });
  for (;;) {
    const last = newest(folder);
    if (last > 0 && (await isAlive(folder, last, deadAfter))) throw inUse(folder, last);
    const own = last + 1;
    if (!write(folder, own, { ...self(), released: false })) continue;
    if (newest(folder) !== own) {
      rmSync(path(folder, own), { force: true });
      continue;
    }
    for (const number of numbers(folder)) if (number < own) rmSync(path(folder, number), { force: true });
    return hold(folder, own);
  }
}

function hold(folder: string, own: number): FolderLock {
  const beat = setInterval(() => {
    try {
      utimesSync(path(folder, own), new Date(), new Date());
    } catch {
      // The folder is gone: there is nothing left to own.
    }
  }, LOCK_BEAT_MS.says);
  beat.unref();
  return {
    release: () => {
      clearInterval(beat);
      // The number stays: were it free, a program that has just seen this owner could take the same as one that sees none.
      try {
        writeFileSync(path(folder, own), JSON.stringify({ ...self(), released: true }));
      } catch {
        // As above.
      }
    },
  };
}

const path = (folder: string, number: number): string => join(folder, `owner.${number}`);
const numbers = (folder: string): number[] =>
  readdirSync(folder).map((name) => /^owner\.(\d+)$/.exec(name)).filter((match) => match !== null).map(([, number]) => Number(number));
const newest = (folder: string): number => Math.max(0, ...numbers(folder));

/** Whether the file could be put in place: false where the number is taken. */
function write(folder: string, number: number, owner: Owner): boolean {
  const draft = join(folder, `.owner-${randomUUID()}`);
  writeFileSync(draft, JSON.stringify(owner));
  try {
    linkSync(draft, path(folder, number));
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  } finally {
    rmSync(draft, { force: true });
  }
}

function read(folder: string, number: number): Owner | null {
  try {
    return JSON.parse(readFileSync(path(folder, number), 'utf8'));
  } catch {
    return null;
  }
}

async function isAlive(folder: string, number: number, deadAfter: number): Promise<boolean> {
  const owner = read(folder, number);
  if (owner === null || owner.released) return false;
  const here = self();
  if (owner.host === here.host && owner.boot !== here.boot) return false;
  if (owner.boot === here.boot && owner.processSpace === here.processSpace && owner.host === here.host) return lives(owner);
  return speaks(folder, number, deadAfter);
}

function lives({ pid, startedAt }: Owner): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ESRCH') return false;
  }
  return startedAt === null || startedAt === startOf(pid);
}

/** Whether an owner on another machine or in another container touches its file; clocks are not compared. */
async function speaks(folder: string, number: number, deadAfter: number): Promise<boolean> {
  const said = (): number => statSync(path(folder, number), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const first = said();
  for (let waited = 0; waited < deadAfter; waited += 500) {
    await wait(500);
    if (said() !== first) return true;
  }
  return false;
}

const self = (): Omit<Owner, 'released'> => ({
  pid: process.pid,
  startedAt: startOf(process.pid),
  boot: quietly(() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()),
  processSpace: quietly(() => readlinkSync('/proc/self/ns/pid')),
  host: hostname(),
});

/** When the process started, in ticks since the boot; null where the system does not say. A command's name may hold spaces and brackets. */
const startOf = (pid: number): string | null =>
  quietly(() => {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
  });

function quietly<T>(look: () => T): T | null {
  try {
    return look();
  } catch {
    return null;
  }
}

function inUse(folder: string, number: number): FolderInUse {
  const owner = read(folder, number);
  const who = owner === null ? 'Another program' : `Process ${owner.pid} on ${owner.host}`;
  return new FolderInUse(`${who} is at work in ${folder}. One program at a time can use this folder; stop the other one, or give this one its own CAST_DATA_FOLDER or a DATABASE_URL.`);
}

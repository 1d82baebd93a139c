import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, statfsSync } from 'node:fs';
import { join } from 'node:path';

/** The system's file system in memory. */
const SHARED = '/dev/shm';
/** Left free by what lies there and by the machine's memory, bytes; a run of the tests holds a fifth of it at most. */
const ROOM = 8e9;
const NAME = 'cast-to-last-in-memory-';

/**
 * A folder in memory for the temporary files of this process, named by its number, or null where there is little room. Files
 * that live for seconds cost a disk much more than their bytes. Folders of processes that are gone are taken away.
 */
export function memoryFolder(shared = SHARED, room = ROOM) {
  if (!existsSync(shared)) return null;
  for (const name of readdirSync(shared)) {
    if (name.startsWith(NAME) && !runs(Number(name.slice(NAME.length)))) rmSync(join(shared, name), { recursive: true, force: true });
  }
  const { bavail, bsize } = statfsSync(shared);
  if (Math.min(bavail * bsize, freeMemory()) < room) return null;
  const folder = join(shared, `${NAME}${process.pid}`);
  mkdirSync(folder, { recursive: true });
  return folder;
}

function runs(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/** Bytes that can be had without taking any from a program; 0 where the system does not say. */
function freeMemory() {
  try {
    return 1024 * Number(/^MemAvailable:\s+(\d+) kB/m.exec(readFileSync('/proc/meminfo', 'utf8'))?.[1] ?? 0);
  } catch {
    return 0;
  }
}

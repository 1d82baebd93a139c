import { ConfigError } from '@cast-to-last/runtime/config';

/** Errors whose own message says what is wrong and what to do. */
const TELLING = new Set(['FolderInUse', 'HistoriesDiffer', 'DamagedChangeFile']);

/** Why the service cannot begin, in words for the one who starts it; null for a fault of the program. */
export function startRefusal(error: unknown, dataFolder: string): string | null {
  if (error instanceof ConfigError || (error instanceof Error && TELLING.has(error.name))) return error.message;
  const { code, syscall } = (error ?? {}) as NodeJS.ErrnoException;
  // A folder that cannot be made on a read-only disk is told by Node.js as one that is not there.
  switch (code === 'ENOENT' && syscall === 'mkdir' ? 'EROFS' : code) {
    case 'EROFS':
    case 'EACCES':
    case 'EPERM':
      return `The data folder ${dataFolder} cannot be written. Mend its rights, or set CAST_DATA_FOLDER to one that can.`;
    case 'ENOSPC':
    case 'EDQUOT':
      return `The disk with the data folder ${dataFolder} is full. Free space and start again; nothing that was acknowledged is lost.`;
    case 'EADDRINUSE':
      return 'Another program listens on this address and port. Stop it, or set HTTP_PORT to another one (0 takes a free one).';
    case 'ECONNREFUSED':
      return 'The database, Redis or the object store of the settings does not answer. Look at DATABASE_URL, REDIS_URL and S3_ENDPOINT, and whether the servers run.';
    default:
      return null;
  }
}

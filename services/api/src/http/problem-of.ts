import { CastError } from '@cast-to-last/pipeline/errors';
import { BadArchive } from '@cast-to-last/runtime/archives/bad-archive';
import { NoSuchArtifact, NotPacked, TooLarge, WrongOffset } from '@cast-to-last/runtime/artifacts/refusals';
import { NoSuchRecord, StaleRecord } from '@cast-to-last/runtime/records/changes/change';
import { Problem, conflict, notFound } from './problem.js';

/** What the system says where a disk is full, and where nothing may be written. */
const FULL = new Set(['ENOSPC', 'EDQUOT', 'EFBIG']);
const NOT_WRITABLE = new Set(['EROFS', 'EACCES', 'EPERM']);
/** What is said where a server cannot be reached, ends its connections or is just starting (PostgreSQL's class 57P). */
const AWAY = new Set(['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT', '57P01', '57P02', '57P03']);
const ENDED = /^(Connection terminated|Client has encountered a connection error|timeout exceeded when trying to connect)/;

/** What PostgreSQL says where a value must be there once and is there already. */
const UNIQUE_VIOLATION = '23505';

/** What is answered for an error; null for a fault of the program. */
export function problemOf(error: unknown): Problem | null {
  if (error instanceof Problem) return error;
  if (error instanceof CastError) return new Problem(422, error.code, error.problem, error.remedy, { more: error.faults.length > 0 ? { faults: error.faults } : {} });
  if (error instanceof NoSuchRecord || error instanceof NoSuchArtifact) return notFound('record');
  if (error instanceof StaleRecord) return new Problem(412, 'changed-meanwhile', 'It was changed since it was read.', 'Look at it as it stands now and decide again.');
  if (error instanceof WrongOffset) {
    return conflict('wrong-offset', error.message, 'Go on with the byte after those that are there.', { received: error.received });
  }
  if (error instanceof BadArchive) return new Problem(422, 'bad-archive', `The archive cannot be used. ${error.message}`, 'Export the order again where it comes from, and send that file as it is.');
  if (error instanceof NotPacked) return new Problem(422, 'not-packed', error.message, 'Pack the file with gzip and upload it again, or upload it as it is.');
  if (error instanceof TooLarge) return new Problem(413, 'too-large', error.message, 'Reduce the scan in the scanning program, or ask the administrator to raise UPLOAD_MAX_MB.');
  if (causesOf(error).some((cause) => cause.code === UNIQUE_VIOLATION)) {
    return conflict('already-there', 'Another one has this number or name already.', 'Choose another one.');
  }
  return ofExpress(error) ?? ofMachine(causesOf(error));
}

/** Faults of the machine or of the servers behind this one, which pass or can be mended. */
function ofMachine(causes: readonly { code?: unknown; message?: unknown }[]): Problem | null {
  const said = (codes: ReadonlySet<unknown>): boolean => causes.some(({ code }) => codes.has(code));
  if (said(FULL)) return new Problem(507, 'disk-full', 'The disk of the service is full; this was not kept.', 'Have the administrator free space, then send it again: what was acknowledged before is safe.');
  if (said(NOT_WRITABLE)) return new Problem(503, 'folder-not-writable', 'The service may not write into its folder; this was not kept.', 'Have the administrator look at the rights of the data folder, then send it again.');
  if (said(AWAY) || causes.some(({ message }) => ENDED.test(String(message)))) {
    return new Problem(503, 'server-away', 'The database or the store of the service cannot be reached.', 'Try again in a moment: what was acknowledged before is safe.', { headers: { 'Retry-After': '5' } });
  }
  return null;
}

function causesOf(error: unknown): { code?: unknown; message?: unknown }[] {
  const causes: { code?: unknown; message?: unknown }[] = [];
  for (let e = error; typeof e === 'object' && e !== null && causes.length < 5; e = (e as { cause?: unknown }).cause) causes.push(e);
  return causes;
}

/** Errors that the reader of bodies or express itself gives carry a status. */
function ofExpress(error: unknown): Problem | null {
  const { status, type } = (error ?? {}) as { status?: unknown; type?: unknown };
  if (type === 'entity.parse.failed') return new Problem(400, 'not-json', 'The body is not JSON.', 'Send JSON.');
  if (type === 'entity.too.large') return new Problem(413, 'too-large', 'The body is too large.', 'Send less at a time.');
  if (typeof status === 'number' && status >= 400 && status < 500) return new Problem(status, 'bad-request', 'The request cannot be read.', 'Mend it and send it again.');
  return null;
}

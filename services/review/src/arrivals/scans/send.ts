import type { Side } from '@cast-to-last/foot/side';
import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { digestOf } from './digest.js';
import { change, files, uploadOf } from './uploads.js';
import type { SideGuess } from './uploads.js';

/** Sent at a time: small enough to show progress and to lose little with a line. */
const PART_BYTES = 1024 * 1024;
const LONGEST_WAIT_MS = 20_000;

const aborts = new Map<string, AbortController>();

interface Begun {
  readonly id?: string;
  /** Where these bytes are a scan already. */
  readonly scanId?: string;
}

/** Sends an upload, or goes on with it, to its end; over lost lines and ended sessions. */
export async function send(key: string): Promise<void> {
  aborts.get(key)?.abort();
  const abort = new AbortController();
  aborts.set(key, abort);
  for (let tries = 0; ; tries++) {
    try {
      await goOn(key, abort.signal, () => {
        tries = 0;
      });
      return;
    } catch (error) {
      if (abort.signal.aborted) return;
      const problem = problemOf(error);
      if (problem.code === 'page-fault') throw error;
      if (problem.status === 404 && uploadOf(key)?.id != null) change(key, { id: null, received: 0 });
      else if (!passes(problem)) {
        change(key, { state: 'stopped', problem });
        return;
      }
      change(key, { state: 'no-line' });
      await waitForLine(Math.min(LONGEST_WAIT_MS, 1000 * 2 ** tries), abort.signal);
      if (abort.signal.aborted) return;
    }
  }
}

export function pause(key: string): void {
  aborts.get(key)?.abort();
  change(key, { state: 'paused' });
}

/** What may be another time: no answer, a service that starts again, a part of before that still comes in. */
const passes = ({ status, code }: ServerProblem): boolean => status === 0 || status >= 500 || code === 'upload-busy' || code === 'wrong-offset' || code === 'upload-not-whole';

function waitForLine(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      removeEventListener('online', end);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    addEventListener('online', end);
    signal.addEventListener('abort', end);
  });
}

async function goOn(key: string, signal: AbortSignal, cameOn: () => void): Promise<void> {
  const file = files.get(key);
  const upload = uploadOf(key);
  if (upload === undefined || file === undefined) return;
  let { id } = upload;
  if (id === null) {
    change(key, { state: 'reading', problem: null });
    const sha256 = await digestOf(file);
    const { body } = await ask<Begun>('POST', upload.castId === null ? `/orders/${upload.orderId}/uploads` : `/casts/${upload.castId}/uploads`, {
      signal, body: { fileName: upload.fileName, size: upload.size, ...upload.particulars, ...(sha256 !== null && { sha256 }) },
    });
    if (body.id === undefined) {
      change(key, { state: 'done', received: upload.size, told: 'This scan was uploaded before; it is not taken twice.' });
      return;
    }
    id = body.id;
    change(key, { id });
  }
  let { received } = (await ask<{ received: number }>('GET', `/uploads/${id}`, { signal })).body;
  change(key, { state: 'sending', received, problem: null });
  while (received < upload.size) {
    const part = file.slice(received, received + PART_BYTES);
    ({ received } = (await ask<{ received: number }>('PATCH', `/uploads/${id}`, { signal, bytes: part, headers: { 'content-type': 'application/octet-stream', 'upload-offset': String(received) } })).body);
    cameOn();
    change(key, { received });
  }
  if (upload.castId !== null) await finish(key, id, null, signal);
  else await askSide(key, id, signal);
}

interface CastOfOrder {
  readonly id: string;
  readonly side: Side;
  readonly state: string;
  readonly currentRevisionId: string | null;
}

/** A cast that waits for its scan: one that has none, or that the maker sent back. */
const isOpen = ({ state, currentRevisionId }: CastOfOrder): boolean => state === 'awaiting-scan' || state === 'sent-back' || (state === 'to-review' && currentRevisionId === null);

async function askSide(key: string, id: string, signal: AbortSignal): Promise<void> {
  change(key, { state: 'asking' });
  let guess: SideGuess;
  try {
    guess = (await ask<SideGuess>('POST', `/uploads/${id}/side`, { signal })).body;
  } catch (error) {
    const problem = problemOf(error);
    if (problem.status !== 422) throw error;
    // What is wrong with the scan is told; whoever knows the side may book it in all the same.
    change(key, { state: 'which-side', problem });
    return;
  }
  const { body: order } = await ask<{ casts: readonly CastOfOrder[] }>('GET', `/orders/${uploadOf(key)?.orderId}`, { signal });
  const fitting = order.casts.filter((cast) => cast.side === guess.side && isOpen(cast));
  if (guess.sure && fitting.length === 1) {
    change(key, { guess });
    await finish(key, id, fitting[0].id, signal);
  } else change(key, { state: 'which-side', guess });
}

/** Books the scan to a cast that a person named. */
export async function bookTo(key: string, castId: string): Promise<void> {
  const upload = uploadOf(key);
  if (upload?.id == null) return;
  const abort = new AbortController();
  aborts.set(key, abort);
  try {
    await finish(key, upload.id, castId, abort.signal);
  } catch (error) {
    if (!abort.signal.aborted) change(key, { state: 'stopped', problem: problemOf(error) });
  }
}

async function finish(key: string, id: string, castId: string | null, signal: AbortSignal): Promise<void> {
  change(key, { state: 'finishing', problem: null });
  await ask('POST', `/uploads/${id}/finish`, { signal, body: castId === null ? {} : { castId } });
  const { guess } = uploadOf(key) ?? {};
  change(key, { state: 'done', told: castId !== null && guess?.side != null ? `Booked to the ${guess.side} cast. ${guess.why}` : 'Booked to its cast.' });
}

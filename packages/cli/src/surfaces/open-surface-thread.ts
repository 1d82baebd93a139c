import { Worker } from 'node:worker_threads';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import type { CastOutcome, StageName } from '@cast-to-last/pipeline/outcome';
import { cleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import type { FromSurfaceThread, ToSurfaceThread } from './surface-messages.js';

/** A thread that makes the files of surfaces while this one checks the cast, builds the last and draws the sheet. */
export interface SurfaceThread {
  /** Takes what a stage made; hands it on as soon as there is enough to begin with. */
  see(stage: StageName, result: unknown): void;
  readonly files: Promise<readonly CastFile[]>;
  close(): Promise<void>;
}

type Seen = Pick<CastOutcome, 'scan' | 'aligned' | 'smoothed' | 'measured'>;

const RECORDS: Partial<Record<StageName, keyof Seen>> = { 'read-scan': 'scan', align: 'aligned', 'smooth-marks': 'smoothed', measure: 'measured' };

export function openSurfaceThread(): SurfaceThread {
  const worker = new Worker(new URL('./surface-thread.js', import.meta.url));
  const tell = (message: ToSurfaceThread): void => worker.postMessage(message);
  const files = new Promise<readonly CastFile[]>((resolve, reject) => {
    worker.once('message', (made: FromSurfaceThread) => resolve(made));
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`The thread that makes files ended with code ${code}.`)));
  });
  // Awaited at the end; a stage that fails before is the failure to tell of.
  files.catch(() => undefined);

  const seen: { -readonly [Name in keyof Seen]?: unknown } = {};
  return {
    see: (stage, result) => {
      const record = RECORDS[stage];
      if (record !== undefined) seen[record] = result;
      if (stage === 'measure') tell({ kind: 'cleaned', surfaces: cleanedSurfaces(seen as Seen) });
      else if (stage === 'build-last') tell({ kind: 'last', mesh: (result as CastOutcome['last']).mesh });
    },
    files,
    close: async () => void (await worker.terminate()),
  };
}

import { Worker } from 'node:worker_threads';
import type { WeighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { SolidError } from '@cast-to-last/geometry/solids/solid';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import type { CastOutcome, StageName } from '@cast-to-last/pipeline/outcome';
import { cleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import type { FromSurfaceThread, ToSurfaceThread } from './surface-messages.js';

/** A thread that makes the files of surfaces while this one checks the cast, builds the last and draws the sheet. */
export interface SurfaceThread {
  /** Takes what a stage made; hands it on as soon as there is enough to begin with. */
  see(stage: StageName, result: unknown): void;
  /** Has the thread weigh the last. */
  readonly weigh: WeighSolid;
  readonly files: Promise<readonly CastFile[]>;
  close(): Promise<void>;
}

type Seen = Pick<CastOutcome, 'scan' | 'aligned' | 'smoothed' | 'measured'>;

const RECORDS: Partial<Record<StageName, keyof Seen>> = { 'read-scan': 'scan', align: 'aligned', 'smooth-marks': 'smoothed', measure: 'measured' };

export function openSurfaceThread(): SurfaceThread {
  const worker = new Worker(new URL('./surface-thread.js', import.meta.url));
  const tell = (message: ToSurfaceThread): void => worker.postMessage(message);
  const ended = new Promise<never>((_, reject) => {
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`The thread that makes files ended with code ${code}.`)));
  });
  /** The next answer of these kinds. */
  const answer = <Kind extends FromSurfaceThread['kind']>(...kinds: readonly Kind[]): Promise<Extract<FromSurfaceThread, { kind: Kind }>> => {
    const said = new Promise<Extract<FromSurfaceThread, { kind: Kind }>>((resolve) => {
      const listen = (message: FromSurfaceThread): void => {
        if (!isOf(message, kinds)) return;
        worker.off('message', listen);
        resolve(message);
      };
      worker.on('message', listen);
    });
    return Promise.race([said, ended]);
  };
  const files = answer('files').then((said) => said.files);
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
    weigh: async (mesh) => {
      tell({ kind: 'weigh', mesh });
      const said = await answer('volume', 'no-solid');
      if (said.kind === 'no-solid') throw new SolidError(said.code, said.problem);
      return said.volume;
    },
    files,
    close: async () => void (await worker.terminate()),
  };
}

const isOf = <Kind extends FromSurfaceThread['kind']>(message: FromSurfaceThread, kinds: readonly Kind[]): message is Extract<FromSurfaceThread, { kind: Kind }> =>
  (kinds as readonly string[]).includes(message.kind);

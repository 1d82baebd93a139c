import { parentPort } from 'node:worker_threads';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { SolidError } from '@cast-to-last/geometry/solids/solid';
import { weighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { sha256 } from '@cast-to-last/pipeline/digest';
import { surfaceFiles } from '@cast-to-last/pipeline/files/surface-files';
import type { CleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import type { FromSurfaceThread, ToSurfaceThread } from './surface-messages.js';

/** A worker thread: makes the files that hold surfaces of one cast, and weighs its last. */

const port = parentPort;
if (port === null) throw new Error('This file runs in a worker thread.');

const say = (said: FromSurfaceThread, moved: readonly ArrayBuffer[] = []): void => port.postMessage(said, moved);

let haveLast: (mesh: Mesh) => void = () => undefined;
const last = new Promise<Mesh>((resolve) => (haveLast = resolve));

const make = async (surfaces: CleanedSurfaces): Promise<void> => {
  const files = (await surfaceFiles(surfaces, last)).map((file) => ({ ...file, sha256: sha256(file.bytes) }));
  say({ kind: 'files', files }, files.map(({ bytes }) => bytes.buffer as ArrayBuffer));
  port.close();
};

const weigh = async (mesh: Mesh): Promise<void> => {
  try {
    say({ kind: 'volume', volume: await weighSolid(mesh) });
  } catch (error) {
    if (!(error instanceof SolidError)) throw error;
    say({ kind: 'no-solid', code: error.code, problem: error.message });
  }
};

port.on('message', (told: ToSurfaceThread) => {
  if (told.kind === 'last') haveLast(told.mesh);
  // A rejection that nothing catches ends the thread with it, which is how the host hears of it.
  else if (told.kind === 'weigh') void weigh(told.mesh);
  else void make(told.surfaces);
});

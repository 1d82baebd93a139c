import { parentPort } from 'node:worker_threads';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { sha256 } from '@cast-to-last/pipeline/digest';
import { surfaceFiles } from '@cast-to-last/pipeline/files/surface-files';
import type { CleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import type { FromSurfaceThread, ToSurfaceThread } from './surface-messages.js';

/** A worker thread: makes the files that hold surfaces of one cast. */

const port = parentPort;
if (port === null) throw new Error('This file runs in a worker thread.');

let haveLast: (mesh: Mesh) => void = () => undefined;
const last = new Promise<Mesh>((resolve) => (haveLast = resolve));

const make = async (surfaces: CleanedSurfaces): Promise<void> => {
  const files: FromSurfaceThread = (await surfaceFiles(surfaces, last)).map((file) => ({ ...file, sha256: sha256(file.bytes) }));
  port.postMessage(files, files.map(({ bytes }) => bytes.buffer as ArrayBuffer));
  port.close();
};

port.on('message', (told: ToSurfaceThread) => {
  if (told.kind === 'last') haveLast(told.mesh);
  // A rejection that nothing catches ends the thread with it, which is how the host hears of it.
  else void make(told.surfaces);
});

import { parentPort, threadId } from 'node:worker_threads';

/** A thread that does what the task's file name says, in place of making a cast. */
const held = [];
const doings = {
  made: () => parentPort.postMessage({ kind: 'made', made: { files: [], summary: { threadId } } }),
  refused: () => parentPort.postMessage({ kind: 'refused', code: 'flat-surface', problem: 'It is flat.', remedy: 'Scan the cast.' }),
  fault: () => parentPort.postMessage({ kind: 'fault', message: 'the disk is full', stack: 'Error: the disk is full\n    at the disk' }),
  exits: () => process.exit(3),
  throws: () => {
    throw new Error('nothing caught this');
  },
  loops: () => {
    for (;;);
  },
  'fills the heap': () => {
    for (;;) held.push(Array.from({ length: 1000 }, (_, i) => ({ i })));
  },
  'fills arrays': () => {
    setInterval(() => held.push(new Uint8Array(16e6).fill(1)), 10);
  },
  tells: () => {
    parentPort.postMessage({ kind: 'progress', progress: { stage: 'repair', done: 1, of: 9 } });
    parentPort.postMessage({ kind: 'preview', files: [{ name: 'review.glb', sha256: 'a', size: 1 }] });
    doings.made();
  },
};
parentPort.on('message', ({ fileName }) => doings[fileName]());

import { describe, expect, it, onTestFinished } from 'vitest';
import { CastError } from '@cast-to-last/pipeline/errors';
import { WorkerDied } from '@cast-to-last/runtime/jobs/runner';
import type { CastTask } from '@cast-to-last/runtime/revisions/cast-task';
import { openCastThreads } from '@cast-to-last/runtime/revisions/cast-threads';
import { QUIET } from '../../support/quiet-log.js';

const PROGRAM = new URL('../../support/fake-cast-thread.mjs', import.meta.url);

function threads({ timeoutMs = 20_000, memoryMb = 200 } = {}) {
  const opened = openCastThreads({ store: { dataFolder: '', objectStore: null }, cacheBytes: 0, limits: { timeoutMs, memoryMb }, log: QUIET, program: PROGRAM });
  onTestFinished(() => opened.close());
  const heard: unknown[] = [];
  const run = (doing: string, signal = new AbortController().signal) =>
    opened.run({ fileName: doing } as CastTask, { signal, progress: (progress) => heard.push(progress), preview: (files) => heard.push(files) });
  const threadOf = async (doing: string): Promise<number> => ((await run(doing)).summary as unknown as { threadId: number }).threadId;
  return { run, threadOf, heard };
}

describe('the threads', () => {
  it('make one cast after another in the same thread, and two at a time in two', async () => {
    const { threadOf } = threads();
    const first = await threadOf('made');
    expect([await threadOf('made'), await threadOf('made')]).toEqual([first, first]);
    const [a, b] = await Promise.all([threadOf('made'), threadOf('made')]);
    expect(a).not.toBe(b);
  });

  it('tell how far they are', async () => {
    const { run, heard } = threads();
    await run('tells');
    expect(heard).toEqual([{ stage: 'repair', done: 1, of: 9 }, [{ name: 'review.glb', sha256: 'a', size: 1 }]]);
  });

  it('hand on refusals and faults, and stay', async () => {
    const { run, threadOf } = threads();
    const before = await threadOf('made');
    await expect(run('refused')).rejects.toMatchObject({ constructor: CastError, code: 'flat-surface', message: 'It is flat. Scan the cast.', remedy: 'Scan the cast.' });
    await expect(run('fault')).rejects.toMatchObject({ message: 'the disk is full', stack: expect.stringContaining('at the disk') });
    expect(await threadOf('made')).toBe(before);
  });

  it.each([['exits', 'worker-died'], ['throws', 'worker-died'], ['fills the heap', 'out-of-memory'], ['fills arrays', 'out-of-memory']])(
    'say how a thread died that %s, and begin another', async (doing, what) => {
      const { run, threadOf } = threads();
      await expect(run(doing)).rejects.toMatchObject({ constructor: WorkerDied, what });
      expect(await threadOf('made')).toBeGreaterThan(0);
    });

  it('end one that takes too long', async () => {
    const { run, threadOf } = threads({ timeoutMs: 300 });
    await expect(run('loops')).rejects.toMatchObject({ constructor: WorkerDied, what: 'out-of-time' });
    expect(await threadOf('made')).toBeGreaterThan(0);
  });

  it('stop in the middle of anything when they are told to', async () => {
    const { run } = threads();
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 200);
    const start = performance.now();
    await expect(run('loops', stop.signal)).rejects.toThrow();
    expect(performance.now() - start).toBeLessThan(5000);
    await expect(run('made', stop.signal)).rejects.toThrow();
  });
});

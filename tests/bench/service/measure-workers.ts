import { setTimeout as wait } from 'node:timers/promises';
import type { BenchCast } from '../bench-cast.js';
import type { Figure } from './bench.js';
import { another, bookIn, startService, startWorker, uploadParts } from './running-service.js';
import type { RunningProgram } from './running-service.js';

const CASTS = 8;

/** A queue of casts, drained by one worker of one thread and by two. */
export async function measureWorkers(cast: BenchCast, stl: Uint8Array, servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const one = await drain(1, cast, stl, await servers());
  const two = await drain(2, cast, stl, await servers());
  return [{ what: `two workers against one, ${CASTS} casts`, bar: '≥ 1.7 ×', measured: `${(one / two).toFixed(2)} ×: ${one.toFixed(1)} s and ${two.toFixed(1)} s`, holds: one / two >= 1.7 }];
}

/** Seconds from when the casts are in the queue, their scans there already, to the end of the last. */
async function drain(count: number, cast: BenchCast, stl: Uint8Array, env: Readonly<Record<string, string>>): Promise<number> {
  const service = await startService({ ...env, WORK: 'none' });
  const workers: RunningProgram[] = [];
  try {
    for (let n = 0; n < count; n++) workers.push(startWorker({ ...env, CAST_DATA_FOLDER: service.dataFolder, DRAIN_S: '0' }));
    let sent = 0;
    const makeSome = async (some: number): Promise<number> => {
      const uploads: string[] = [];
      for (let n = 0; n < some; n++, sent++) uploads.push(await uploadParts(service, await bookIn(service, `W-${sent}`, cast.side), another(stl, sent)));
      const start = performance.now();
      for (const id of uploads) await service.say('POST', `/uploads/${id}/finish`, {});
      while ((await service.say('GET', '/jobs?state=waiting,running')).items.length > 0) await wait(50);
      return (performance.now() - start) / 1000;
    };
    // Each worker makes casts before the clock runs.
    await makeSome(2 * count);
    return await makeSome(CASTS);
  } finally {
    await Promise.all(workers.map((worker) => worker.stop()));
    await service.stop();
  }
}

import { setTimeout as wait } from 'node:timers/promises';
import type { BenchCast } from '../bench-cast.js';
import type { Figure } from './bench.js';
import { another, bookIn, startService, startWorker, uploadParts } from './running-service.js';
import type { RunningProgram } from './running-service.js';

const CASTS = 12;

/** Casts that each worker makes before the clock runs: the engine goes on compiling over the first three or four. */
const WARM = 4;

/** How often the queue is asked whether it is empty: what answers takes of the same processors. */
const ASKED_EVERY_MS = 500;

/** A queue of casts, drained by one worker of one thread, by two and by four. */
export async function measureWorkers(cast: BenchCast, stl: Uint8Array, servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const [one, two, four] = [await drain(1, cast, stl, await servers()), await drain(2, cast, stl, await servers()), await drain(4, cast, stl, await servers())];
  const told = (count: number, seconds: number): string => `${count}: ${seconds.toFixed(1)} s, ${((60 * CASTS) / seconds).toFixed(1)} casts a minute`;
  return [
    { what: `two workers against one, ${CASTS} casts in the queue`, bar: '≥ 1.7 ×', measured: `${(one / two).toFixed(2)} ×`, holds: one / two >= 1.7 },
    { what: `${CASTS} casts by so many workers on two processors`, bar: '–', measured: [told(1, one), told(2, two), told(4, four)].join('; '), holds: true },
  ];
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
      while ((await service.say('GET', '/jobs?state=waiting,running')).items.length > 0) await wait(ASKED_EVERY_MS);
      return (performance.now() - start) / 1000;
    };
    await makeSome(WARM * count);
    return await makeSome(CASTS);
  } finally {
    await Promise.all(workers.map((worker) => worker.stop()));
    await service.stop();
  }
}

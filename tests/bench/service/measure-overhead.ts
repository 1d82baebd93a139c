import { setTimeout as wait } from 'node:timers/promises';
import type { BenchCast } from '../bench-cast.js';
import { timeRun } from '../time-run.js';
import type { Figure } from './bench.js';
import { median } from '../median.js';
import { another, bookIn, processorTimeOf, startService, uploadParts } from './running-service.js';

const SETTLE_MS = 2000;

/** From the last byte uploaded to the finished last, against the command line on the same cast, in turns; the embedded service, warm. */
export async function measureOverhead(cast: BenchCast, stl: Uint8Array, runs: number): Promise<Figure[]> {
  const service = await startService();
  const [byService, byCommand, stages, serviceCpu, commandCpu]: number[][] = [[], [], [], [], []];
  try {
    // The first cast of a thread pays for its start.
    for (let n = -1; n < runs; n++) {
      const id = await uploadParts(service, await bookIn(service, `B-${n}`, cast.side), another(stl, n));
      let castId = '';
      const ended = service.event((event, told) => event === 'cast' && told.state === 'to-review' && told.castId === castId);
      const before = processorTimeOf(service.pid);
      const start = performance.now();
      const made = await service.say('POST', `/uploads/${id}/finish`, {});
      castId = made.castId;
      const seconds = ((await ended) - start) / 1000;
      const { summary } = await service.say('GET', `/revisions/${made.revisionId}`);
      if (n < 0) continue;
      byService.push(seconds);
      stages.push(summary.stages.reduce((sum: number, { durationMs }: { durationMs: number }) => sum + durationMs, 0) / 1000);
      // What is stored after the cast was told counts as well.
      await wait(SETTLE_MS);
      serviceCpu.push(processorTimeOf(service.pid) - before);
      const command = await timeRun(cast);
      byCommand.push(command.wallMs / 1000);
      commandCpu.push(command.cpuMs / 1000);
    }
  } finally {
    await service.stop();
  }
  const [own, command] = [median(byService), median(byCommand)];
  return [{
    what: 'overhead of the service over the command line, one cast at a time', bar: '≤ 0.5 s', holds: own - command <= 0.5,
    measured: `${(own - command).toFixed(2)} s: ${own.toFixed(2)} s from upload complete to finished last (stages ${median(stages).toFixed(2)} s), ${command.toFixed(2)} s for the whole command; processor time ${median(serviceCpu).toFixed(2)} s and ${median(commandCpu).toFixed(2)} s; medians of ${runs}`,
  }];
}

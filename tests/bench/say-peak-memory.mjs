/** Loaded before a program that is timed: says on descriptor 3 how much memory and processor time it took, as JSON. */
import { writeSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';

// Threads of the program load this as well; the figures are those of the process.
if (isMainThread) {
  process.on('exit', () => {
    const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
    writeSync(3, JSON.stringify({ peakBytes: 1024 * maxRSS, cpuMs: (userCPUTime + systemCPUTime) / 1000 }));
  });
}

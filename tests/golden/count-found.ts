import { FOUND_BAR } from './bars.js';
import type { Golden } from './golden-file.js';
import type { SampleRun } from './sample-run.js';

/** Planted dents and bumps that count, those found, and false marks, over all runs. */
export function countFound(runs: readonly SampleRun[]): Golden['marks'] {
  const counted = runs.flatMap((run) => run.score.planted.filter((m) => (m.kind === 'dent' || m.kind === 'bump') && Math.abs(m.depth) >= FOUND_BAR.leastDepth));
  return {
    counted: counted.length,
    found: counted.filter((m) => m.found).length,
    falseMarks: runs.reduce((sum, run) => sum + run.score.falseMarks.length, 0),
  };
}

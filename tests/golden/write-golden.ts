/**
 * Writes the golden numbers of the sample casts anew, with the reason why they changed, and says what is beyond its bar.
 *
 *   node --conditions=source --import tsx tests/golden/write-golden.ts "the reason"
 */
import { existsSync, writeFileSync } from 'node:fs';
import { FALSE_MARKS_BAR, FOUND_BAR, FRAME_BAR, MEASURE_BARS } from './bars.js';
import { countFound } from './count-found.js';
import type { GoldenSample } from './golden-file.js';
import { GOLDEN_PATH, readGolden } from './golden-file.js';
import { runSample, SAMPLE_NAMES, type SampleRun } from './sample-run.js';

const why = process.argv[2]?.trim();
if (why === undefined || why.length < 10) {
  console.error('Say in a sentence why the golden numbers change.');
  process.exit(2);
}
const rounded = (value: number | null, digits = 3): number | null => (value === null ? null : Number(value.toFixed(digits)));
const samples: Record<string, GoldenSample> = {};
const runs: SampleRun[] = [];
for (const name of SAMPLE_NAMES) {
  const run = await runSample(name);
  runs.push(run);
  const beyond = Object.entries(run.errors).filter(([id, error]) => Math.abs(error) > (MEASURE_BARS[id as keyof typeof MEASURE_BARS] ?? Infinity));
  samples[name] = {
    measures: Object.fromEntries(Object.entries(run.measures).map(([id, value]) => [id, rounded(value)])),
    marks: run.marks,
    triangles: run.triangles,
    volume: Math.round(run.volume),
    beyondBar: Object.fromEntries(beyond.map(([id, error]) => [id, rounded(error, 2) as number])),
  };
  console.log(`${name}: frame ${run.frameRms.toFixed(2)} mm${run.frameRms > FRAME_BAR ? ' (beyond its bar)' : ''}, false marks ${run.score.falseMarks.length}${beyond.map(([id, error]) => `, ${id} ${error.toFixed(2)}`).join('')}`);
}
const marks = countFound(runs);
console.log(`dents and bumps found: ${marks.found} of ${marks.counted} (bar ${FOUND_BAR.share}); false marks a cast: ${(marks.falseMarks / runs.length).toFixed(2)} (bar ${FALSE_MARKS_BAR})`);
const before = existsSync(GOLDEN_PATH) ? readGolden().reasons : [];
writeFileSync(GOLDEN_PATH, `${JSON.stringify({ reasons: [{ date: new Date().toISOString().slice(0, 10), why }, ...before], samples, marks }, null, 2)}\n`);

import { beforeAll, describe, expect, it } from 'vitest';
import type { MeasureId } from '@cast-to-last/foot/measures';
import { FALSE_MARKS_BAR, FOUND_BAR, FRAME_BAR, GOLDEN_TOLERANCES, MEASURE_BARS } from './bars.js';
import { countFound } from './count-found.js';
import { readGolden } from './golden-file.js';
import { runSample, SAMPLE_NAMES, type SampleRun } from './sample-run.js';

/** Numbers that may only change with a reason: write-golden.ts writes them anew and asks for it. */
const golden = readGolden();
const runs = new Map<string, SampleRun>();
const runOf = (name: string): SampleRun => runs.get(name) as SampleRun;

beforeAll(async () => {
  for (const name of SAMPLE_NAMES) runs.set(name, await runSample(name));
});

function toleranceOf(id: string): number {
  if (id.endsWith('-girth')) return GOLDEN_TOLERANCES.girthMm;
  return id.endsWith('-angle') ? GOLDEN_TOLERANCES.angleDeg : GOLDEN_TOLERANCES.lengthMm;
}

it('the golden file holds the samples, and says why it was written', () => {
  expect(Object.keys(golden.samples)).toEqual([...SAMPLE_NAMES]);
  expect(golden.reasons.length).toBeGreaterThan(0);
  for (const { why } of golden.reasons) expect(why.length).toBeGreaterThan(10);
});

describe.each(SAMPLE_NAMES)('%s', (name) => {
  const kept = golden.samples[name];

  it('has the measures that it had', () => {
    const { measures } = runOf(name);
    expect(Object.keys(measures)).toEqual(Object.keys(kept.measures));
    for (const [id, value] of Object.entries(kept.measures)) {
      if (value === null) expect(measures[id], id).toBeNull();
      else expect(Math.abs((measures[id] ?? NaN) - value), id).toBeLessThanOrEqual(toleranceOf(id));
    }
  });

  it('has as many marks of each kind, triangles and cubic millimetres as it had', () => {
    const { marks, triangles, volume } = runOf(name);
    for (const kind of ['dent', 'bump', 'ridge', 'seam'] as const) expect(Math.abs(marks[kind] - kept.marks[kind]), kind).toBeLessThanOrEqual(GOLDEN_TOLERANCES.marks);
    expect(Math.abs(triangles - kept.triangles)).toBeLessThanOrEqual(GOLDEN_TOLERANCES.triangles);
    expect(Math.abs(volume / kept.volume - 1)).toBeLessThan(GOLDEN_TOLERANCES.volumeShare);
  });

  it('lies as near to its truth as the bars ask, or where it never did, no further off than it was', () => {
    const { errors, frameRms } = runOf(name);
    expect(Object.keys(errors).length).toBeGreaterThan(12);
    expect(frameRms).toBeLessThanOrEqual(FRAME_BAR);
    for (const [id, error] of Object.entries(errors)) {
      const known = kept.beyondBar[id];
      const most = known === undefined ? (MEASURE_BARS[id as MeasureId] ?? Infinity) : Math.abs(known) + toleranceOf(id);
      expect(Math.abs(error), id).toBeLessThanOrEqual(most);
    }
  });
});

it('the marks of all samples are found, and few others, as the bars ask; or as many as ever', () => {
  const { counted, found, falseMarks } = countFound([...runs.values()]);
  expect(counted).toBe(golden.marks.counted);
  expect(counted).toBeGreaterThan(25);
  expect(found).toBeGreaterThanOrEqual(Math.min(golden.marks.found, Math.ceil(FOUND_BAR.share * counted)));
  expect(falseMarks).toBeLessThanOrEqual(Math.max(golden.marks.falseMarks, FALSE_MARKS_BAR * SAMPLE_NAMES.length));
});

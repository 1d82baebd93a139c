/**
 * Puts phantoms through the pipeline and prints how good it was, in Markdown.
 *
 *   npm run phantoms -- [--first 10000] [--count 50] [--triangles 100000] [--once] [--write] [--list]
 *
 * --once leaves out the second pass, --write also writes tests/phantoms/FIGURES.md, --list prints each false or missed mark.
 * Seeds 1 to 999 are for tuning; figures that are reported use seeds from 10000 on. Every fifth cast has no marks at all;
 * every second one has 0.03 mm of scan noise, the others 0.02 to 0.08.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { wholeOptions } from '../support/whole-options.js';
import { figuresTable } from './scoring/figures.js';
import { makePhantom } from './make-phantom.js';
import type { PhantomOptions } from './phantom-options.js';
import { runPipeline } from './scoring/run-pipeline.js';
import { scoreCast, type CastScore } from './scoring/score.js';

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '10000' },
    count: { type: 'string', default: '50' },
    triangles: { type: 'string', default: '100000' },
    once: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
  },
});

const [first, count, triangles] = wholeOptions(values, 'first', 'count', 'triangles');
const scores: CastScore[] = [];
const refused: { seed: number; why: string }[] = [];
const seconds: number[] = [];

for (let seed = first; seed < first + count; seed++) {
  const bare: PhantomOptions = seed % 5 === 0 ? { dents: 0, bumps: 0, ridges: 0, seam: false } : {};
  const phantom = makePhantom(seed, { triangles, ...bare, ...(seed % 2 === 0 ? { noise: 0.03 } : {}) });
  const outcome = await runPipeline(phantom, !values.once);
  if ('refused' in outcome) {
    refused.push({ seed, why: outcome.refused });
    process.stderr.write(`${seed} ${phantom.made.family}: refused, ${outcome.refused}\n`);
    continue;
  }
  const score = scoreCast(phantom, outcome.result);
  scores.push(score);
  seconds.push(outcome.seconds);
  const found = score.marks.planted.filter((m) => m.found).length;
  process.stderr.write(
    `${seed} ${phantom.made.family} ${phantom.made.oddities.join(' ')}: frame ${score.frameRms.toFixed(2)} mm, marks ${found}/${score.marks.planted.length}, false ${score.marks.falseMarks.length}, again ${score.secondPassMarks ?? '–'}, ${outcome.seconds.toFixed(1)} s\n`,
  );
  if (!values.list) continue;
  const at = (p: readonly number[]): string => p.map((c) => c.toFixed(0)).join(' ');
  for (const m of score.marks.falseMarks) process.stderr.write(`  false ${m.kind} ${m.depth.toFixed(2)} at ${at(m.centre)}\n`);
  score.marks.planted.forEach((m, i) => {
    if (!m.found && Math.abs(m.depth) >= 0.8) process.stderr.write(`  missed ${m.kind} ${m.profile} ${m.depth.toFixed(2)} × ${m.width.toFixed(0)} ${m.region} at ${at(phantom.truth.marks[i].centre)}\n`);
  });
}

const table = figuresTable(scores, refused);
process.stdout.write(`${table}\n`);
if (values.write) {
  const sorted = [...seconds].sort((a, b) => a - b);
  const text = [
    '# How good, on synthetic casts',
    '',
    `Made ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, by \`npm run phantoms -- --first ${first} --count ${count} --triangles ${triangles}${values.once ? ' --once' : ''} --write\`.`,
    '',
    `Seeds ${first} to ${first + count - 1}, about ${triangles} triangles each; seeds 1 to 999 are the ones used for tuning. Every fifth cast has no marks at all, every second one 0.03 mm of scan noise, the others 0.02 to 0.08 mm. Everything that is found is smoothed (depth threshold 20 mm, no landmark distance) but deep marks on the free toes, which are asked. The rules by which a mark counts as found or false stand in score-marks.ts. Pipeline without the sheet: median ${(sorted[Math.floor(sorted.length / 2)] ?? 0).toFixed(1)} s a cast.`,
    '',
    table,
    '',
  ].join('\n');
  writeFileSync(new URL('./FIGURES.md', import.meta.url), text);
}

/**
 * Puts casts with planted positions through the pipeline and prints how well the cast check reads them, in Markdown.
 *
 *   npm run position -- [--first 30000] [--count 60] [--triangles 50000] [--write] [--list]
 *
 * --write also writes tests/phantoms/position/FIGURES.md, --list prints every reading of every cast. Of every 60 seeds 24 are
 * sound casts and 36 bear an error each. Seeds 1 to 999 are for tuning; figures that are reported use seeds from 30000 on.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom, type Phantom } from '../make-phantom.js';
import { wholeOptions } from '../../support/whole-options.js';
import { planCast, type CastPlan } from './plan-cast.js';
import { positionFigures } from './position-figures.js';
import { positionTruth } from './position-truth.js';
import { runCheck } from './run-check.js';
import { scorePosition, type PositionScore } from './score-position.js';

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '30000' },
    count: { type: 'string', default: '60' },
    triangles: { type: 'string', default: '50000' },
    write: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
  },
});

const [first, count, triangles] = wholeOptions(values, 'first', 'count', 'triangles');
const scores: PositionScore[] = [];
const show = (v: number | null | undefined): string => (v === null ? 'none' : v === undefined ? 'no reading' : v.toFixed(2));

/** Null where the foot of this seed cannot be drawn in this position as one whole surface. */
function made({ seed, options }: CastPlan): Phantom | null {
  try {
    return makePhantom(seed, options);
  } catch (error) {
    process.stderr.write(`${seed}: not made, ${(error as Error).message}\n`);
    return null;
  }
}

let notMade = 0;
for (let seed = first; seed < first + count; seed++) {
  const plan = planCast(seed, triangles);
  const phantom = made(plan);
  if (phantom === null) {
    notMade++;
    continue;
  }
  const score = scorePosition(plan, phantom.made.family, positionTruth(phantom.truth), await runCheck(phantom, plan.casting), DEFAULT_RULES.check);
  scores.push(score);
  const planted = plan.planted === null ? `sound, ${plan.bed}` : `${plan.planted.error} ${plan.planted.strength}`;
  const codes = score.codes.map((c) => `${c.code} (${c.severity})`).join(', ');
  process.stderr.write(
    `${seed} ${score.family}: ${planted}: ${score.verdict}${score.right === null ? '' : score.right ? ', right' : ', WRONG'}; ${codes || 'nothing found'}; reference: ${score.worst.code} ${score.worst.share.toFixed(2)} of the limit; frame off by ${score.frameAngleDeg?.toFixed(2) ?? '–'}°; ${score.seconds.toFixed(1)} s\n`,
  );
  if (!values.list) continue;
  for (const r of score.readings) process.stderr.write(`  ${r.id}: ${show(r.value)} ± ${show(r.uncertainty)}, true ${show(r.truth)}${r.counts ? '' : ' (does not count)'}\n`);
}

const table = positionFigures(scores, notMade);
process.stdout.write(`${table}\n`);
if (values.write) {
  const seconds = scores.map((s) => s.seconds).sort((a, b) => a - b);
  const text = [
    '# How well the position of a cast is read',
    '',
    `Made ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, by \`npm run position -- --first ${first} --count ${count} --triangles ${triangles} --write\`.`,
    '',
    `Seeds ${first} to ${first + count - 1}, about ${triangles} triangles each; seeds 1 to 999 are for tuning. Every cast has marks, scan noise and holes as in the ordinary phantoms, half of the feet are odd in one way. What is true of bend, hinge and the pitches is what the plates were that the foot was put on, and so are the angle of a tilted heel and the leans over it; of every other reading what the reference reads off the clean surface by the same definition; strengths are shares of the limit for a new cast unless a unit is named. Readings that an error leaves without a meaning do not count (plan-errors.ts). A planted error whose reading came out below 1.4 times the limit by the reference is not counted among those of 1.5 times, one that came out beyond 0.9 not among those that need care alone. Pipeline up to the verdict: median ${(seconds[Math.floor(seconds.length / 2)] ?? 0).toFixed(1)} s a cast.`,
    '',
    table,
    '',
  ].join('\n');
  writeFileSync(new URL('./FIGURES.md', import.meta.url), text);
}

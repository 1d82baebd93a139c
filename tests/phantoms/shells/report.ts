/**
 * Puts scans of plaster shells, and of positives from shells that were closed wrongly, through the pipeline up to the
 * verdict and prints how good it was, in Markdown.
 *
 *   npm run shells -- [--first 40000] [--count 60] [--triangles 60000] [--only "gaping"] [--write] [--list]
 *
 * --only takes the casts whose plan's name holds the words, --write also writes tests/phantoms/shells/FIGURES.md, --list
 * prints every reading and finding. Seeds 1 to 999 are for tuning; figures that are reported use seeds from 40000 on.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { wholeOptions } from '../../support/whole-options.js';
import { makeShell } from './make-shell.js';
import { runShell } from './run-shell.js';
import { scoreShell, type ShellScore } from './score-shell.js';
import { shellFigures, type Refusal } from './shell-figures.js';
import { planOf, saidOf } from './shell-plans.js';

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '40000' },
    count: { type: 'string', default: '60' },
    triangles: { type: 'string', default: '60000' },
    only: { type: 'string', default: '' },
    write: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
  },
});

const [first, count, triangles] = wholeOptions(values, 'first', 'count', 'triangles');
const scores: ShellScore[] = [];
const refused: Refusal[] = [];

for (let seed = first; seed < first + count; seed++) {
  const plan = planOf(seed);
  if (!plan.name.includes(values.only)) continue;
  const shell = makeShell(seed, { triangles: Math.round(triangles * (plan.density ?? 1)), ...plan.options });
  const run = await runShell(shell, saidOf(shell, plan, seed));
  const who = `${seed} ${plan.name}, ${shell.made.family} ${shell.made.oddities.join(' ')}`;
  if ('refused' in run) {
    refused.push({ seed, plan: plan.name, code: run.refused });
    process.stderr.write(`${who}: refused, ${run.refused}\n`);
    if (values.list) process.stderr.write(`  ${run.message}\n`);
    continue;
  }
  const score = scoreShell(shell, plan, run.outcome, run.seconds);
  scores.push(score);
  process.stderr.write(`${who}: ${score.verdict}, ${run.seconds.toFixed(1)} s\n`);
  if (!values.list) continue;
  const { cut, nominalWall } = shell.truth;
  process.stderr.write(`  wall ${nominalWall.toFixed(2)}${score.wall ? ` off ${score.wall.error.toFixed(2)} ± ${score.wall.uncertainty.toFixed(2)} (${score.wall.how})` : ''}, cut ${cut.kind} ${cut.widest.toFixed(1)}, step ${cut.step.toFixed(2)}${score.strong ? ', strong' : ''}${score.caught ? ', caught' : ''}\n`);
  process.stderr.write(`  findings: ${score.findings.join(', ') || 'none'}; weak places ${score.weak.found}/${score.weak.planted}\n`);
  for (const r of score.readings) process.stderr.write(`  ${r.id}: ${r.value?.toFixed(2) ?? 'not readable'} for ${r.truth.toFixed(2)}${r.girthChange === null ? '' : ` (tape ${r.girthChange.toFixed(2)})`}\n`);
  const off = score.measures.filter((m) => Math.abs(m.error) > 0.5).map((m) => `${m.id} ${m.error.toFixed(2)} ± ${m.uncertainty.toFixed(2)}`);
  if (off.length > 0) process.stderr.write(`  off: ${off.join(', ')}\n`);
}

const tables = shellFigures(scores, refused);
process.stdout.write(`${tables}\n`);
if (values.write) {
  const text = [
    '# How good, on synthetic shells and cuts',
    '',
    `Made ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, by \`npm run shells -- --first ${first} --count ${count} --triangles ${triangles}${values.only ? ` --only "${values.only}"` : ''} --write\`.`,
    '',
    `Seeds ${first} to ${first + count - 1}, about ${triangles} triangles each (some 0.4, 0.5 or 2 times that); seeds 1 to 999 are the ones used for tuning. Plans of the casts stand in shell-plans.ts. Everything that is found is smoothed; the limits of the check are the usual ones.`,
    '',
    'Offset surfaces are scored as align hands them on, without what repair made up, 6 mm and a wall below the top edge, and not where a mark, the seam or a kink of more than 0.02 mm was planted. A web is where no ball of 1.3 walls can touch the inner surface from outside (a hollow of less radius). There the outside tells no more than the inner surface with its webs filled by balls as large as the wall; the error against that and against the inner surface itself are both given.',
    '',
    tables,
    '',
  ].join('\n');
  writeFileSync(new URL('./FIGURES.md', import.meta.url), text);
}

/**
 * Makes the accuracy book: casts that nothing was tuned on through the pipeline, against the truth and against smoothing of
 * the whole surface at its best setting; a page with plots in out/accuracy/, a summary to be kept with --write.
 *
 *   npm run accuracy -- [--first 11000] [--count 200] [--triangles 60000] [--jobs 1] [--write]
 *
 * --jobs shares the casts among so many processes; --write also writes tests/accuracy/SUMMARY.md. A run that was ended goes on
 * where it stood when it is started again, unless the sources changed.
 */
import { fork } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { wholeOptions } from '../support/whole-options.js';
import { trySettings } from './best-setting.js';
import { bookPage } from './book/book-page.js';
import { bookSummary } from './book/book-summary.js';
import { bookFigures } from './book/summary.js';
import type { BookCast, NotMade } from './cast-scores.js';
import { KeptScores } from './kept-scores.js';
import { nameOf } from './whole-surface/filters.js';

const { values } = parseArgs({
  options: { first: { type: 'string', default: '11000' }, count: { type: 'string', default: '200' }, triangles: { type: 'string', default: '60000' }, jobs: { type: 'string', default: '1' }, write: { type: 'boolean', default: false } },
});
const [first, count, triangles, jobs] = wholeOptions(values, 'first', 'count', 'triangles', 'jobs');

/** Of the tuning seeds. */
const TRIED_ON = Array.from({ length: 12 }, (_, i) => 501 + i);
process.stderr.write('looking for the best setting of whole-surface smoothing\n');
const kept = new KeptScores(triangles);
const tried = kept.tried(() => trySettings(TRIED_ON, triangles));
for (const { setting, atMarks, over } of tried) process.stderr.write(`  ${nameOf(setting)}: ${over.toFixed(3)} mm in all, ${atMarks.toFixed(3)} at marks\n`);
const [best] = tried;

const seeds = Array.from({ length: count }, (_, i) => first + i);
const tries: (BookCast | NotMade)[] = kept.casts.filter(({ seed }) => seeds.includes(seed));
const open = seeds.filter((seed) => !tries.some((cast) => cast.seed === seed));
await Promise.all(Array.from({ length: Math.min(jobs, open.length) }, async (_, job) => {
  const child = fork(fileURLToPath(new URL('./score-casts.ts', import.meta.url)), { execArgv: ['--import', 'tsx'] });
  child.on('message', (cast: BookCast | NotMade) => {
    tries.push(cast);
    kept.add(cast);
    process.stderr.write(`${cast.seed}: ${'notMade' in cast ? `not made, ${cast.notMade}` : (cast.refused ?? 'scored')} (${tries.length} of ${count})\n`);
  });
  child.send({ seeds: open.filter((__, i) => i % jobs === job), triangles, setting: best.setting });
  await new Promise<void>((resolve, reject) => child.once('exit', (code) => (code === 0 ? resolve() : reject(new Error(`A process that scores casts ended with ${code}.`)))));
}));
const casts = tries.filter((cast): cast is BookCast => 'score' in cast).sort((a, b) => a.seed - b.seed);
const notMade = tries.filter((cast): cast is NotMade => 'notMade' in cast);

const figures = bookFigures(casts);
const made = `Made ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, by npm run accuracy: ${casts.length} synthetic casts with exact truth, seeds ${first} to ${first + count - 1}${notMade.map(({ seed, notMade: why }) => ` but ${seed}, which cannot be made (${why})`).join('')}, about ${triangles} triangles each, that nothing was tuned on. Every fifth has no marks, every second 0.03 mm of scan noise, the others 0.02 to 0.08.`;
const whole = `${nameOf(best.setting)} (least error left at marks, on seeds ${TRIED_ON[0]} to ${TRIED_ON[TRIED_ON.length - 1]})`;
mkdirSync('out/accuracy', { recursive: true });
writeFileSync('out/accuracy/index.html', bookPage(figures, made, whole));
const summary = bookSummary(figures, made, whole);
process.stdout.write(`${summary}\nThe book is out/accuracy/index.html.\n`);
if (values.write) writeFileSync(new URL('./SUMMARY.md', import.meta.url), summary);

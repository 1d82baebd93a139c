/**
 * Runs a TypeScript program of the tests against the built packages: node infra/setup/run-built.mjs FILE [arguments].
 * The comment that such a program begins with is its help.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { ROOT, run, setUp } from './set-up.mjs';

const [file, ...rest] = process.argv.slice(2);
if (file === undefined) {
  console.error('Say which file to run.');
  process.exit(2);
}
if (rest.includes('--help')) {
  console.log(helpOf(readFileSync(resolve(ROOT, file), 'utf8')));
  process.exit(0);
}
setUp();
process.exit(run(process.execPath, ['--expose-gc', '--import', 'tsx', '--import', new URL('./tell-wrong-call.mjs', import.meta.url).href, resolve(ROOT, file), ...rest]));

/** The text of the comment at the head of a source. */
function helpOf(source) {
  const [, comment] = /^\/\*\*\n([\s\S]*?)\n \*\/\n/.exec(source);
  return comment.replaceAll(/^ \* ?/gm, '');
}

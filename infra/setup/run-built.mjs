/** Runs a TypeScript program of the tests against the built packages: node infra/setup/run-built.mjs FILE [arguments]. */
import { ROOT, run, setUp } from './set-up.mjs';
import { resolve } from 'node:path';

const [file, ...rest] = process.argv.slice(2);
if (file === undefined) {
  console.error('Say which file to run.');
  process.exit(2);
}
setUp();
process.exit(run(process.execPath, ['--expose-gc', '--import', 'tsx', resolve(ROOT, file), ...rest]));

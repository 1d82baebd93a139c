/** npm run --silent cast -- ARGUMENTS: the command from a checkout, set up first where it has not been built. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT, setUp } from './set-up.mjs';

const main = join(ROOT, 'packages', 'cli', 'dist', 'main.js');
if (!existsSync(main)) setUp({ sayOnStderr: true });
await import(pathToFileURL(main).href);

/** npm start: sets up, then starts the service on this machine with the sample orders in it, until it is stopped (Ctrl-C). */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT, setUp } from './set-up.mjs';

setUp({ sayOnStderr: true });

// On a console the log would hide the few lines that matter.
process.env.LOG_LEVEL ??= 'warn';
process.argv.push('--samples', join(ROOT, 'sample-meshes'));
await import(pathToFileURL(join(ROOT, 'services', 'api', 'dist', 'main.js')).href);

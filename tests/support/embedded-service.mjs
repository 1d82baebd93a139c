import { readConfig } from '../../packages/runtime/dist/config.js';
import { openLog } from '../../packages/runtime/dist/log.js';
import { openRuntime } from '../../packages/runtime/dist/runtime.js';

/** A program that works on casts in its own process and says, a line of JSON each, how far they are and how they end. */
const config = readConfig();
const runtime = await openRuntime(config, openLog(config, 'embedded-service'));
for (const event of ['progress', 'ended']) runtime.jobs.events.on(event, (told) => process.stdout.write(`${JSON.stringify({ event, ...told })}\n`));
await runtime.jobs.reconcile();
process.on('SIGTERM', () => void runtime.close().then(() => process.exit(0)));

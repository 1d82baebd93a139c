import { readConfig } from '../../packages/runtime/dist/config.js';
import { openLog } from '../../packages/runtime/dist/log.js';
import { openRuntime } from '../../packages/runtime/dist/runtime.js';

/**
 * A program that works on casts in its own process and says, a line of JSON each, how far they are and how they end. CUT_AT
 * names a stage, or `made`: it kills itself as that begins, or as all files of a cast are stored, once CUT_AFTER casts have
 * ended.
 */
const config = readConfig();
const { CUT_AT, CUT_AFTER } = process.env;
let casts = 0;
process.on('worker', (worker) => worker.on('message', ({ kind, progress }) => {
  if (casts === Number(CUT_AFTER) && CUT_AT === (kind === 'progress' ? progress.stage : kind)) process.kill(process.pid, 'SIGKILL');
}));
const runtime = await openRuntime(config, openLog(config, 'embedded-service'));
for (const event of ['progress', 'ended']) runtime.jobs.events.on(event, (told) => process.stdout.write(`${JSON.stringify({ event, ...told })}\n`));
runtime.jobs.events.on('ended', () => casts++);
await runtime.jobs.reconcile();
process.on('SIGTERM', () => void runtime.close().then(() => process.exit(0)));

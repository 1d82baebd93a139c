#!/usr/bin/env node
import { ConfigError, readConfig } from '@cast-to-last/runtime/config';
import type { Config } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import { openRuntime } from '@cast-to-last/runtime/runtime';

/** A program that takes casts from the queue and makes lasts of them, until it is asked to stop. */

const config = configOrEnd();
const log = openLog(config, 'cast-worker');
process.on('unhandledRejection', (error) => {
  log.fatal({ err: error }, 'a fault that nothing caught');
  process.exit(1);
});

const runtime = await openRuntime(config, log).catch((error: unknown) => {
  log.fatal({ err: error }, 'the worker cannot begin');
  process.exit(1);
});
log.info({ threads: config.work.threads }, 'the worker takes casts');

let stopping = false;
for (const signal of ['SIGTERM', 'SIGINT'] as const) {
  process.on(signal, () => {
    if (stopping) return;
    stopping = true;
    log.info({ running: runtime.runner.running() }, 'the worker was asked to stop and ends what it has begun');
    void runtime.close().then(() => process.exit(0));
  });
}

function configOrEnd(): Config {
  try {
    const read = readConfig();
    if (read.redisUrl === null) throw new ConfigError(['REDIS_URL is missing: a worker takes its casts from a queue; on one machine the service works on them itself']);
    return { ...read, work: { ...read.work, here: true } };
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exit(2);
  }
}

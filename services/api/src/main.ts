#!/usr/bin/env node
import { parseArgs } from 'node:util';
import { ConfigError, readConfig } from '@cast-to-last/runtime/config';
import type { Config } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import { openService } from './open-service.js';
import { startRefusal } from './start-refusal.js';
import { addSamples } from './samples/add-samples.js';

/**
 * The service: its address and the first-account link go to standard output, the log to standard error. With
 * `--samples FOLDER` the sample orders of that folder are booked in where there are no orders.
 */

const { samples } = optionsOrEnd();
const config = configOrEnd();
const log = openLog(config, 'api');
process.on('unhandledRejection', (error) => {
  log.fatal({ err: error }, 'a fault that nothing caught');
  process.exit(1);
});

const service = await openService(config, log, samples ?? null).catch((error: unknown) => {
  log.fatal({ err: error }, 'the service cannot begin');
  const refusal = startRefusal(error, config.dataFolder);
  if (refusal !== null) endWith(refusal);
  process.exit(1);
});
process.stdout.write(`cast-to-last is at ${service.url}\n`);
if (service.firstAccountUrl !== null) process.stdout.write(`No one has an account yet. Make the first one here; the link holds once, for a day: ${service.firstAccountUrl}\n`);
if (samples !== undefined) {
  const casts = await addSamples(service.runtime, samples);
  if (casts > 0) process.stdout.write(`The sample orders are booked in; ${casts} of their casts are being made into lasts, one order waits for its scan.\n`);
}
log.info({ url: service.url }, 'the service listens');

let stopping = false;
for (const signal of ['SIGTERM', 'SIGINT'] as const) {
  process.on(signal, () => {
    if (stopping) return;
    stopping = true;
    log.info({ running: service.runtime.runner.running() }, 'the service was asked to stop and ends what it has begun');
    void service.close().then(() => process.exit(0));
  });
}

function optionsOrEnd() {
  try {
    return parseArgs({ options: { samples: { type: 'string' } } }).values;
  } catch (error) {
    endWith(`${(error as Error).message} The service takes one option: --samples FOLDER.`);
  }
}

function configOrEnd(): Config {
  try {
    return readConfig();
  } catch (error) {
    if (error instanceof ConfigError) endWith(error.message);
    throw error;
  }
}

function endWith(sentence: string): never {
  process.stderr.write(`${sentence}\n`);
  process.exit(2);
}

import type { Config } from '../config.js';
import { openBullRunner } from './bull-runner.js';
import { openLocalRunner } from './local-runner.js';
import type { RunnerOptions } from './local-runner.js';
import type { Runner } from './runner.js';

/** The runner that the settings ask for. */
export function openRunner(config: Pick<Config, 'redisUrl' | 'jobs' | 'work'>, options: Omit<RunnerOptions, 'config' | 'slots'>): Runner {
  const all = { ...options, config: config.jobs, slots: config.work.threads };
  return config.redisUrl === null ? openLocalRunner(all) : openBullRunner({ ...all, redisUrl: config.redisUrl });
}

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ConfigError, VARIABLES, readConfig } from '@cast-to-last/runtime/config';

const faultsOf = (env: Record<string, string>): readonly string[] => {
  try {
    readConfig(env);
  } catch (error) {
    if (error instanceof ConfigError) return error.faults;
    throw error;
  }
  return [];
};

describe('the settings', () => {
  it('need nothing: one machine, its own data folder, heard by this machine alone', () => {
    const config = readConfig({});
    expect(config).toMatchObject({ dataFolder: 'data', databaseUrl: null, redisUrl: null, objectStore: null, http: { host: '127.0.0.1', port: 0 } });
    expect(config.work).toEqual({ here: true, threads: 1, timeoutMs: 300_000, memoryMb: 1536 });
  });

  it('take an empty variable for none', () => {
    expect(readConfig({ DATABASE_URL: '', WORK_THREADS: '' })).toEqual(readConfig({}));
  });

  it('tell every fault at once', () => {
    const faults = faultsOf({ DATABASE_URL: 'mysql://x/y', HTTP_PORT: '70000', WORK_THREADS: 'two', LOG_LEVEL: 'loud', S3_ENDPOINT: 'http://127.0.0.1:9000', S3_BUCKET: 'casts', WORK: 'none' });
    for (const name of ['DATABASE_URL', 'HTTP_PORT', 'WORK_THREADS', 'LOG_LEVEL', 'S3_ACCESS_KEY', 'S3_SECRET_KEY', 'WORK']) {
      expect(faults.filter((fault) => fault.startsWith(`${name} `)), name).toHaveLength(1);
    }
    expect(faults).toHaveLength(7);
  });

  it('refuse a queue over a database that serves one process', () => {
    expect(faultsOf({ REDIS_URL: 'redis://127.0.0.1' })).toHaveLength(1);
    expect(faultsOf({ REDIS_URL: 'redis://127.0.0.1', DATABASE_URL: 'postgres://127.0.0.1/service' })).toEqual([]);
  });

  it('read every variable that is described, and describe every one that is read', () => {
    const source = readFileSync(new URL('../../packages/runtime/src/config.ts', import.meta.url), 'utf8');
    const read = new Set([...source.matchAll(/\benv\.([A-Z][A-Z0-9_]+)/g)].map(([, name]) => name));
    expect([...read].sort()).toEqual(Object.keys(VARIABLES).sort());
  });
});

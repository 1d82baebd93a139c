import { afterAll, beforeAll } from 'vitest';
import type { PostgresServer } from './postgres-server.js';
import { startPostgres } from './postgres-server.js';
import type { RedisServer } from './redis-server.js';
import { startRedis } from './redis-server.js';

/** A PostgreSQL and a Redis server for all tests of a file. */
export interface BothServers {
  readonly postgres: PostgresServer;
  readonly redis: RedisServer;
}

export function bothServers(): () => BothServers {
  let servers: BothServers;
  beforeAll(async () => {
    const [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
    servers = { postgres, redis };
  });
  afterAll(async () => {
    servers?.postgres.stop();
    await servers?.redis.stop();
  });
  return () => servers;
}

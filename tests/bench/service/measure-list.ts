import type { Db } from '@cast-to-last/runtime/records/database';
import { drizzle } from 'drizzle-orm/node-postgres';
import pg from 'pg';
import { manyCasts } from '../../support/many-casts.js';
import type { Figure } from './bench.js';
import { median } from '../median.js';
import { startService } from './running-service.js';

const COUNT = 10_000;
const ASKED = 21;

/** The lists of a workshop with 10,000 casts; what is asked for is a page of 50. */
export async function measureList(servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const env = await servers();
  const service = await startService({ ...env, WORK: 'none' });
  try {
    await fill(env.DATABASE_URL);
    const figures: Figure[] = [];
    for (const path of ['/casts', '/casts?state=to-review&limit=200', '/casts?search=N-77', '/orders', '/orders?castState=to-review', '/arrivals', '/arrivals/counts']) {
      const times: number[] = [];
      for (let n = 0; n < ASKED; n++) {
        const start = performance.now();
        await service.say('GET', path);
        times.push(performance.now() - start);
      }
      figures.push({ what: `GET ${path} with 10,000 casts`, bar: '≤ 100 ms', measured: `${median(times).toFixed(0)} ms, median of ${ASKED}`, holds: median(times) <= 100 });
    }
    return figures;
  } finally {
    await service.stop();
  }
}

async function fill(url: string): Promise<void> {
  const pool = new pg.Pool({ connectionString: url });
  await manyCasts(drizzle(pool, { casing: 'snake_case' }) as unknown as Db, COUNT);
  await pool.end();
}

import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { drizzle } from 'drizzle-orm/node-postgres';
import pg from 'pg';
import type { Figure } from './bench.js';
import { median, startService } from './running-service.js';

const COUNT = 10_000;
const CHUNK = 500;
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
  const db = drizzle(pool, { casing: 'snake_case' });
  const id = (kind: string, i: number): string => `${kind}-0000-4000-8000-${String(i).padStart(12, '0')}`;
  for (let from = 0; from < COUNT; from += CHUNK) {
    const numbers = Array.from({ length: CHUNK }, (_, i) => from + i);
    const row = (i: number) => {
      const at = new Date(Date.UTC(2026, 0, 1) + i * 1000).toISOString();
      return { version: 1, createdAt: at, changedAt: at };
    };
    await db.insert(orders).values(numbers.map((i) => ({ ...row(i), id: id('00000001', i), number: `N-${i}`, state: 'open' as const, content: { orderNumber: `N-${i}` } })));
    await db.insert(casts).values(numbers.map((i) => ({ ...row(i), id: id('00000002', i), orderId: id('00000001', i), side: 'left' as const, state: i % 4 === 0 ? ('to-review' as const) : ('approved' as const), photos: [] })));
  }
  await pool.end();
}

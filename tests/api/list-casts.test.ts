import { describe, expect, it } from 'vitest';
import { casts, orders } from '@cast-to-last/runtime/records/schema';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();
const COUNT = 10_000;
const CHUNK = 500;

describe('the list of casts', () => {
  it('gives its pages where there are 10,000, the first as one far down', async () => {
    const { service, assistant } = workshop();
    const { db } = service.runtime.records;
    for (let from = 0; from < COUNT; from += CHUNK) {
      const numbers = Array.from({ length: CHUNK }, (_, i) => from + i);
      const row = (i: number) => {
        const at = new Date(Date.UTC(2026, 0, 1) + i * 1000).toISOString();
        return { version: 1, createdAt: at, changedAt: at };
      };
      const id = (kind: string, i: number): string => `${kind}-0000-0000-0000-${String(i).padStart(12, '0')}`;
      await db.insert(orders).values(numbers.map((i) => ({ ...row(i), id: id('00000001', i), number: `N-${i}`, state: 'open' as const, content: { orderNumber: `N-${i}` } })));
      await db.insert(casts).values(numbers.map((i) => ({ ...row(i), id: id('00000002', i), orderId: id('00000001', i), side: 'left' as const, state: i % 4 === 0 ? 'to-review' as const : 'approved' as const, photos: [] })));
    }
    const far = Buffer.from(JSON.stringify([new Date(Date.UTC(2026, 0, 1) + 500_000).toISOString(), ''])).toString('base64url');
    for (const path of ['/casts', `/casts?after=${far}`, '/casts?state=to-review&limit=200', '/casts?search=N-77']) {
      const { body } = await assistant('GET', path);
      expect(body.items.length, path).toBe(path.includes('200') ? 200 : 50);
      expect(body.next, path).not.toBeNull();
    }
  });
});

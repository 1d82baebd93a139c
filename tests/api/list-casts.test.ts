import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.js';
import { bookedInAt, manyCasts } from '../support/many-casts.js';

const workshop = workshopService();

describe('the list of casts', () => {
  it('gives its pages where there are 10,000, the first as one far down', async () => {
    const { service, assistant } = workshop();
    const { db } = service.runtime.records;
    await manyCasts(db, 10_000);
    const far = Buffer.from(JSON.stringify([bookedInAt(500), ''])).toString('base64url');
    for (const path of ['/casts', `/casts?after=${far}`, '/casts?state=to-review&limit=200', '/casts?search=N-77']) {
      const { body } = await assistant('GET', path);
      expect(body.items.length, path).toBe(path.includes('200') ? 200 : 50);
      expect(body.next, path).not.toBeNull();
    }
  });
});

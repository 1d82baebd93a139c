import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.js';

const TOKEN = 'f'.repeat(32);
/** As a request comes in that a proxy handed on. */
const FAR = { 'x-forwarded-for': '192.0.2.1' };
const bearer = (token: string) => ({ ...FAR, authorization: `Bearer ${token}` });

describe('the metrics', () => {
  const workshop = workshopService({ METRICS_TOKEN: TOKEN });

  it('are given elsewhere to the holder of their token, and to no other', async () => {
    const { nobody } = workshop();
    const answer = await nobody.raw('GET', '/metrics', undefined, bearer(TOKEN));
    expect([answer.status, await answer.text()]).toEqual([200, expect.stringMatching(/^jobs\{state="waiting"\} 0$/m)]);
    for (const token of ['e'.repeat(32), `${TOKEN}f`, TOKEN.slice(1), TOKEN.toUpperCase()]) expect((await nobody.raw('GET', '/metrics', undefined, bearer(token))).status, token).toBe(401);
    expect((await nobody.raw('GET', '/metrics', undefined, FAR)).status).toBe(403);
    // It opens nothing else.
    expect((await nobody.raw('GET', '/orders', undefined, bearer(TOKEN))).status).toBe(401);
  });

  it('are given to administrators from anywhere, and not to other roles or to stations', async () => {
    const { administrator, maker, assistant, nobody } = workshop();
    expect((await administrator.raw('GET', '/metrics', undefined, FAR)).status).toBe(200);
    for (const say of [maker, assistant]) expect((await say.raw('GET', '/metrics', undefined, FAR)).status).toBe(403);
    const { body } = await administrator('POST', '/tokens', { name: 'station' });
    expect((await nobody.raw('GET', '/metrics', undefined, bearer(body.token))).status).toBe(403);
  });
});

import { describe, expect, it, onTestFinished } from 'vitest';
import { openService } from '@cast-to-last/api/open-service';
import { readConfig } from '@cast-to-last/runtime/config';
import { bothServers } from '../support/both-servers.js';
import { bookIn, sampleScan, until, upload } from '../support/api-cast.js';
import type { Speaker } from '../support/api-service.js';
import { PASSWORD, inSession, speaker } from '../support/api-service.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const servers = bothServers();

async function service(): Promise<Speaker> {
  const config = readConfig({ CAST_DATA_FOLDER: temporaryFolder(), DATABASE_URL: await servers().postgres.newDatabase(), REDIS_URL: servers().redis.url, LOG_LEVEL: 'silent', DRAIN_S: '0', RECONCILE_S: '1', JOB_LEASE_S: '3' });
  const open = await openService(config, QUIET);
  onTestFinished(() => open.close());
  return inSession(open.url, await speaker(open.url)('POST', '/first-account', { token: open.firstAccountUrl?.split('#')[1], name: 'maker', displayName: 'Maker', password: PASSWORD }));
}

const made = (say: Speaker, revisionId: string) => until(() => say('GET', `/revisions/${revisionId}`), ({ status, body }) => status === 200 && body.state !== 'waiting');

describe('a server that goes and comes back', () => {
  it('the database, in the middle of a cast: refused meanwhile with what to do, and whole afterwards', async () => {
    const say = await service();
    const { castId, orderNumber } = await bookIn(say);
    const { body: { revisionId } } = await upload(say, castId, sampleScan('2041-left.stl'));
    await until(() => say('GET', `/revisions/${revisionId}`), ({ body }) => body.job?.state === 'running');
    servers().postgres.kill();
    const refused = await say('POST', '/orders', { content: { orderNumber: 'away' } });
    expect([refused.status, refused.body.code]).toEqual([503, 'server-away']);
    expect(refused.headers.get('retry-after')).toBe('5');
    expect((await say('GET', '/ready')).status).toBe(503);
    expect((await say('GET', '/health')).status).toBe(200);
    servers().postgres.startAgain();

    await until(() => say('GET', '/ready'), ({ status }) => status === 200);
    expect((await made(say, revisionId)).body.state).toBe('done');
    expect((await say('GET', '/orders')).body.items.map(({ number }: { number: string }) => number)).toEqual([orderNumber]);
    expect((await say('GET', `/casts/${castId}/revisions`)).body.items).toHaveLength(1);
  });

  it('Redis, while a cast is asked for: taken down, made when it is back, also where it forgot everything', async () => {
    const say = await service();
    const { castId } = await bookIn(say, { side: 'right' });
    await servers().redis.kill();
    const { status, body: { revisionId } } = await upload(say, castId, sampleScan('2041-right.stl'));
    expect(status).toBeLessThan(300);
    await servers().redis.startAgain({ empty: true });
    expect((await made(say, revisionId)).body.state).toBe('done');
  });
});

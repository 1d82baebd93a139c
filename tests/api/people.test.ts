import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openService } from '@cast-to-last/api/open-service';
import type { OpenService } from '@cast-to-last/api/open-service';
import { readConfig } from '@cast-to-last/runtime/config';
import { PASSWORD, inSession, speaker, workshopService } from '../support/api-service.js';
import { emptyDatabase } from '../support/open-records.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const workshop = workshopService();

/** The service over a database in which nobody has an account. */
async function openEmpty(env: Record<string, string> = {}): Promise<OpenService> {
  const dataFolder = temporaryFolder();
  cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
  const service = await openService(readConfig({ CAST_DATA_FOLDER: dataFolder, DRAIN_S: '0', ...env }), QUIET);
  onTestFinished(() => service.close());
  return service;
}

describe('the first account', () => {
  it('is made once, by the link alone', async () => {
    const service = await openEmpty();
    const nobody = speaker(service.url);
    const token = service.firstAccountUrl?.split('#')[1];
    expect(token).toMatch(/^[\w-]{43}$/);
    const first = { name: 'first', displayName: 'First', password: PASSWORD };
    expect((await nobody('POST', '/first-account', { ...first, token: 'another' })).status).toBe(403);
    expect((await nobody('POST', '/first-account', { ...first, token })).status).toBe(201);
    for (const tried of [token, 'another']) {
      const again = await nobody('POST', '/first-account', { token: tried, name: 'x', displayName: 'X', password: PASSWORD });
      expect([again.status, again.body.code]).toEqual([403, 'link-does-not-hold']);
    }
  });

  it('is needed before the service listens wider than this machine', async () => {
    await expect(openEmpty({ HTTP_HOST: '0.0.0.0' })).rejects.toThrow(/HTTP_HOST is 0\.0\.0\.0/);
  });
});

describe('signing in', () => {
  it('gives a cookie that scripts cannot read and other sites cannot send', async () => {
    const { nobody } = workshop();
    const { status, headers } = await nobody('POST', '/session', { name: 'maker', password: PASSWORD });
    expect(status).toBe(200);
    expect(headers.get('set-cookie')).toMatch(/^session=[\w-]{43}; Max-Age=604800; Path=\/; .*HttpOnly; SameSite=Strict$/);
  });

  it('says the same of a wrong name as of a wrong password, and makes one wait after five tries', async () => {
    const { nobody } = workshop();
    const wrongName = await nobody('POST', '/session', { name: 'nobody-there', password: PASSWORD });
    const answers = [];
    for (let i = 0; i < 6; i++) answers.push(await nobody('POST', '/session', { name: 'first', password: 'not the password' }));
    expect({ ...answers[0].body, requestId: '' }).toEqual({ ...wrongName.body, requestId: '' });
    expect(answers.map(({ status }) => status)).toEqual([401, 401, 401, 401, 401, 429]);
    expect(Number(answers[5].headers.get('retry-after'))).toBeGreaterThan(5);
    expect((await nobody('POST', '/session', { name: 'first', password: PASSWORD })).status).toBe(429);
  });

  it('ends where one signs out', async () => {
    const { service, nobody } = workshop();
    const session = inSession(service.url, await nobody('POST', '/session', { name: 'maker', password: PASSWORD }));
    expect((await session('GET', '/session')).body.person).toMatchObject({ name: 'maker', role: 'maker' });
    expect((await session('DELETE', '/session')).status).toBe(204);
    expect((await session('GET', '/session')).status).toBe(401);
  });
});

describe('a request that changes something', () => {
  it('needs the session\'s own token, and is refused from another site', async () => {
    const { service, administrator } = workshop();
    const body = { name: 'station one' };
    const { 'x-csrf-token': _left, ...cookieAlone } = administrator.headers;
    expect((await speaker(service.url, cookieAlone)('POST', '/tokens', body)).body.code).toBe('no-csrf-token');
    expect((await administrator('POST', '/tokens', body, { origin: 'https://elsewhere.example' })).body.code).toBe('other-site');
    expect((await administrator('POST', '/tokens', body, { origin: service.url })).status).toBe(201);
  });
});

describe('people', () => {
  it('are changed by the one who read them as they are, and never lose the last administrator', async () => {
    const { administrator } = workshop();
    const [first] = (await administrator('GET', '/people')).body.items.filter((p: { name: string }) => p.name === 'first');
    expect((await administrator('PATCH', `/people/${first.id}`, { displayName: 'F' })).status).toBe(428);
    expect((await administrator('PATCH', `/people/${first.id}`, { displayName: 'F' }, { 'if-match': '"99"' })).body).toMatchObject({ status: 412, current: { id: first.id, version: first.version } });
    const demoted = await administrator('PATCH', `/people/${first.id}`, { role: 'maker' }, { 'if-match': `"${first.version}"` });
    expect([demoted.status, demoted.body.code]).toEqual([409, 'last-administrator']);
  });

  it('have names that are theirs alone, long passwords, and lose their sessions with their state', async () => {
    const { service, administrator, nobody } = workshop();
    const person = { name: 'helper', displayName: 'Helper', role: 'assistant', password: PASSWORD };
    const made = await administrator('POST', '/people', person);
    expect(made.status).toBe(201);
    expect(JSON.stringify(made.body)).not.toMatch(/scrypt|password/i);
    expect((await administrator('POST', '/people', person)).status).toBe(409);
    expect((await administrator('POST', '/people', { ...person, name: 'other', password: 'short' })).body.faults).toEqual([{ path: 'password', message: 'must have at least 12 characters' }]);
    const session = inSession(service.url, await nobody('POST', '/session', { name: 'helper', password: PASSWORD }));
    expect((await session('GET', '/orders')).status).toBe(200);
    await administrator('PATCH', `/people/${made.body.id}`, { state: 'disabled' }, { 'if-match': '"1"' });
    expect((await session('GET', '/orders')).status).toBe(401);
    expect((await nobody('POST', '/session', { name: 'helper', password: PASSWORD })).status).toBe(401);
  });

  it('change their own password, which ends their other sessions', async () => {
    const { service, administrator, nobody } = workshop();
    const made = await administrator('POST', '/people', { name: 'changing', displayName: 'C', role: 'maker', password: PASSWORD });
    const [one, other] = await Promise.all([0, 1].map(async () => inSession(service.url, await nobody('POST', '/session', { name: 'changing', password: PASSWORD }))));
    const path = `/people/${made.body.id}/password`;
    expect((await one('POST', path, { password: 'not this one', newPassword: `${PASSWORD} two` })).status).toBe(403);
    expect((await one('POST', path, { password: PASSWORD, newPassword: `${PASSWORD} two` })).status).toBe(204);
    expect([(await one('GET', '/session')).status, (await other('GET', '/session')).status]).toEqual([200, 401]);
    expect((await nobody('POST', '/session', { name: 'changing', password: `${PASSWORD} two` })).status).toBe(200);
  });
});

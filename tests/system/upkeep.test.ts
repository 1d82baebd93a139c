import { spawnSync } from 'node:child_process';
import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { PASSWORD, speaker } from '../support/api-service.js';
import { ENGINE_FLAGS } from '../support/engine-flags.ts';
import { freePort } from '../support/free-port.js';
import { emptyDatabase } from '../support/open-records.js';
import { startProgram } from '../support/program.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const program = (path: string): string => fileURLToPath(new URL(`../../services/api/dist/${path}.js`, import.meta.url));

function upkeep(args: readonly string[], env: Readonly<Record<string, string>>) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [...ENGINE_FLAGS, program('upkeep/main'), ...args], { encoding: 'utf8', env: { PATH: process.env.PATH, LOG_LEVEL: 'error', ...env } });
  return { status, stdout, stderr };
}

describe('upkeep', () => {
  it('prints the way in for a service that listens wider, which then starts; its backup becomes another service', async () => {
    const port = String(await freePort());
    const env = { CAST_DATA_FOLDER: temporaryFolder(), HTTP_HOST: '0.0.0.0', HTTP_PORT: port, PUBLIC_URL: `http://localhost:${port}`, LOG_LEVEL: 'error' };
    const refused = spawnSync(process.execPath, [...ENGINE_FLAGS, program('main')], { encoding: 'utf8', env: { PATH: process.env.PATH, ...env } });
    expect([refused.status, refused.stderr]).toEqual([2, expect.stringContaining('upkeep -- first-account')]);
    const { status, stdout } = upkeep(['first-account'], env);
    expect([status, stdout]).toEqual([0, expect.stringMatching(new RegExp(`^http://localhost:${port}/welcome#[\\w-]{43}\\n$`))]);

    const service = startProgram(program('main'), [], env);
    await service.line((line) => line.includes('cast-to-last is at'));
    const nobody = speaker(`http://localhost:${port}`);
    const account = (token: string) => nobody('POST', '/first-account', { token, name: 'first', displayName: 'First', password: PASSWORD });
    expect((await account('x'.repeat(43))).status).toBeGreaterThanOrEqual(400);
    expect((await account(stdout.trim().split('#')[1])).status).toBe(201);

    const backup = temporaryFolder();
    expect(upkeep(['backup', backup], env)).toMatchObject({ status: 0, stdout: expect.stringContaining('changes') });
    expect(upkeep(['verify'], env)).toMatchObject({ status: 2, stderr: expect.stringMatching(/use/) });
    await service.stop();

    const elsewhere = { ...env, CAST_DATA_FOLDER: temporaryFolder() };
    expect(upkeep(['restore', backup], elsewhere)).toMatchObject({ status: 0, stdout: expect.stringContaining('is in place') });
    expect(upkeep(['verify'], elsewhere)).toMatchObject({ status: 0, stdout: expect.stringContaining('as they were written') });
    expect(upkeep(['first-account'], elsewhere)).toMatchObject({ status: 2, stderr: expect.stringContaining('accounts already') });
    expect(upkeep(['retention'], elsewhere)).toMatchObject({ status: 0, stdout: expect.stringContaining('0 customers') });
    expect(upkeep(['clear'], elsewhere)).toMatchObject({ status: 0 });
    const again = startProgram(program('main'), [], elsewhere);
    await again.line((line) => line.includes('cast-to-last is at'));
    expect((await nobody('POST', '/session', { name: 'first', password: PASSWORD })).status).toBe(200);
    await again.stop();
  });

  it('prints no link to a port that is known only when the service starts', async () => {
    const env = { CAST_DATA_FOLDER: temporaryFolder(), HTTP_PORT: '0' };
    cpSync(await emptyDatabase(), join(env.CAST_DATA_FOLDER, 'records'), { recursive: true });
    expect(upkeep(['first-account'], env)).toMatchObject({ status: 2, stdout: '', stderr: expect.stringMatching(/HTTP_PORT is 0[\s\S]*PUBLIC_URL/) });
    expect(upkeep(['first-account'], { ...env, PUBLIC_URL: 'https://casts.example' })).toMatchObject({ status: 0, stdout: expect.stringMatching(/^https:\/\/casts\.example\/welcome#/) });
    expect(upkeep(['first-account'], { ...env, HTTP_PORT: '8080' })).toMatchObject({ status: 0, stdout: expect.stringMatching(/:8080\/welcome#/) });
  });

  it('says how it is called, and every fault of the settings at once', () => {
    expect(upkeep(['--help'], {})).toMatchObject({ status: 0, stdout: expect.stringContaining('first-account') });
    for (const args of [[], ['backup'], ['verify', 'x'], ['mend'], ['verify', '--mend']]) expect(upkeep(args, { CAST_DATA_FOLDER: temporaryFolder() })).toMatchObject({ status: 2, stderr: expect.stringContaining('npm run upkeep') });
    const called = spawnSync(process.execPath, [...ENGINE_FLAGS, program('main'), '--sample', 'x'], { encoding: 'utf8', env: { PATH: process.env.PATH, CAST_DATA_FOLDER: temporaryFolder() } });
    expect([called.status, called.stderr]).toEqual([2, expect.stringContaining('--samples FOLDER')]);
    expect(called.stderr).not.toContain('    at ');
    const wrong = upkeep(['verify'], { HTTP_PORT: 'x', CACHE_GB: '-1' });
    expect([wrong.status, wrong.stderr]).toEqual([2, expect.stringMatching(/HTTP_PORT[\s\S]*CACHE_GB|CACHE_GB[\s\S]*HTTP_PORT/)]);
  });
});

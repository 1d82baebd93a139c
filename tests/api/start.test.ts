import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { until } from '../support/api-cast.js';
import { PASSWORD, inSession, speaker } from '../support/api-service.js';
import { emptyDatabase } from '../support/open-records.js';
import { startProgram } from '../support/program.js';
import { buildPackages } from '../support/run-cli.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const START = fileURLToPath(new URL('../../infra/setup/start.mjs', import.meta.url));

beforeAll(buildPackages);

describe('npm start', () => {
  it('prints where the service is and where the first account is made, has the sample orders, and ends when it is asked to', async () => {
    const dataFolder = temporaryFolder();
    cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
    const program = startProgram(START, [], { CAST_DATA_FOLDER: dataFolder, DRAIN_S: '0' });
    const url = /is at (\S+)$/.exec(await program.line((line) => line.includes(' is at ')))?.[1] ?? '';
    const link = /(\S+)\/welcome#(\S+)$/.exec(await program.line((line) => line.includes('/welcome#')));
    expect(link?.[1]).toBe(url);
    expect(new URL(url).hostname).toBe('127.0.0.1');
    await program.line((line) => line.includes('sample orders'));
    const nobody = speaker(url);
    const say = inSession(url, await nobody('POST', '/first-account', { token: link?.[2], name: 'maker', displayName: 'Maker', password: PASSWORD }));
    expect((await say('GET', '/orders')).body.items.map(({ number }: { number: string }) => number).sort()).toEqual(['2041', '2042', '2043', '2044']);
    const { body } = await until(() => say('GET', '/casts?search=2041'), (answer) => answer.body.items.some(({ state }: { state: string }) => state === 'to-review'));
    expect(body.items.map(({ side }: { side: string }) => side).sort()).toEqual(['left', 'right']);
    expect(await program.stop()).toBe(0);
  });
});

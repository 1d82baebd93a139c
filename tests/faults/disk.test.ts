import { cpSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { bookIn, ended, sampleScan, upload } from '../support/api-cast.js';
import { PASSWORD, inSession, speaker } from '../support/api-service.js';
import { emptyDatabase } from '../support/open-records.js';
import { startOnOwnDisk } from '../support/own-disk.js';
import { buildPackages } from '../support/run-cli.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const API = fileURLToPath(new URL('../../services/api/dist/main.js', import.meta.url));

beforeAll(buildPackages);

/** The service with its files on a disk of a few megabytes, and its maker. The database is elsewhere. */
async function onSmallDisk(sizeMb: number) {
  const data = temporaryFolder();
  cpSync(await emptyDatabase(), join(data, 'records'), { recursive: true });
  mkdirSync(join(data, 'files'), { recursive: true });
  const program = startOnOwnDisk({ folder: join(data, 'files'), sizeMb }, API, [], { CAST_DATA_FOLDER: data, LOG_LEVEL: 'silent' });
  const url = /is at (\S+)$/.exec(await program.line((line) => line.includes(' is at ')))?.[1] ?? '';
  const token = /#(\S+)$/.exec(await program.line((line) => line.includes('/welcome#')))?.[1];
  return inSession(url, await speaker(url)('POST', '/first-account', { token, name: 'maker', displayName: 'Maker', password: PASSWORD }));
}

describe('a full disk', () => {
  it('refuses what it cannot keep, keeps what it acknowledged, and goes on when there is room', async () => {
    const say = await onSmallDisk(6);
    const { castId, orderNumber } = await bookIn(say);
    const { body: begun } = await say('POST', `/casts/${castId}/uploads`, { fileName: 'large.stl', size: 20_000_000 });
    const part = await say.raw('PATCH', `/uploads/${begun.id}`, new Uint8Array(10_000_000), { 'upload-offset': '0' });
    expect(part.status).toBe(507);
    expect(await part.json()).toMatchObject({ code: 'disk-full', remedy: expect.stringContaining('free space') });

    // To the last byte, so that not even the file of a change finds room.
    const { received } = (await say('GET', `/uploads/${begun.id}`)).body;
    let at = received as number;
    for (let size = 65_536; size >= 1; size = Math.floor(size / 4)) {
      while ((await say.raw('PATCH', `/uploads/${begun.id}`, new Uint8Array(size), { 'upload-offset': String(at) })).status === 200) at += size;
      at = (await say('GET', `/uploads/${begun.id}`)).body.received;
    }
    const refused = await say('POST', '/orders', { content: { orderNumber: 'no-room', remarks: 'x'.repeat(1900) } });
    expect([refused.status, refused.body.code]).toEqual([507, 'disk-full']);
    const numbers = async () => (await say('GET', '/orders')).body.items.map(({ number }: { number: string }) => number);
    expect(await numbers()).toEqual([orderNumber]);

    await say('DELETE', `/uploads/${begun.id}`);
    expect((await say('POST', '/orders', { content: { orderNumber: 'with-room' } })).status).toBe(201);
    expect(await numbers()).toEqual(['with-room', orderNumber]);
  });

  it('under a cast in work makes it fail with a story, not be half there; made anew it is whole', async () => {
    const say = await onSmallDisk(4);
    const { castId } = await bookIn(say);
    const { body } = await upload(say, castId, sampleScan('2041-left.stl'));
    const outcome = await ended(say, body.revisionId);
    const { state, files, story } = outcome;
    // The story as well, so that a run that ends otherwise says how.
    expect({ state, files, story }).toMatchObject({ state: 'failed', files: [] });
    expect(JSON.stringify(story)).toContain('ENOSPC');
    expect((await say('GET', `/casts/${castId}`)).body.currentRevisionId).toBeNull();
  });
});

describe('a folder that cannot be written', () => {
  it('is told at the start, with what to do', async () => {
    const folder = temporaryFolder();
    const program = startOnOwnDisk({ folder, sizeMb: 4, readOnly: true }, API, [], { CAST_DATA_FOLDER: folder, LOG_LEVEL: 'silent' });
    expect(await program.ended).toBe(2);
    expect(program.lines.join('\n')).toMatch(/cannot be written/);
    expect(program.lines.join('\n')).toContain('CAST_DATA_FOLDER');
  });
});

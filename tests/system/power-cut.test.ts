import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { orders } from '@cast-to-last/runtime/records/schema';
import { emptyDatabase, openTestRecords } from '../support/open-records.js';
import { startProgram } from '../support/program.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const CHANGE_MAKER = fileURLToPath(new URL('../support/change-maker.mjs', import.meta.url));

describe('a power cut', () => {
  it.each([['at the state of an earlier day', true], ['gone', false]])('loses no change that was acknowledged, with the database %s', async (_, older) => {
    const folder = temporaryFolder();
    cpSync(await emptyDatabase(), join(folder, 'records'), { recursive: true });
    const database = join(folder, 'records', 'pg');

    const yesterday = startProgram(CHANGE_MAKER, [folder, '1']);
    await yesterday.line((line) => line === '7');
    await yesterday.kill();
    const before = Number(yesterday.lines.at(-1));
    cpSync(database, join(folder, 'earlier'), { recursive: true });

    // The numbers overlap: whichever was put twice is there once.
    const today = startProgram(CHANGE_MAKER, [folder, String(before)]);
    await today.line((line) => Number(line) >= before + 15);
    await today.kill();
    const acknowledged = Number(today.lines.at(-1));
    rmSync(database, { recursive: true });
    if (older) cpSync(join(folder, 'earlier'), database, { recursive: true });

    const records = await openTestRecords(folder, null);
    expect(records.caughtUp.applied).toBeGreaterThanOrEqual(15);
    const numbers = (await records.db.select({ number: orders.number }).from(orders)).map(({ number }) => Number(number)).sort((a, b) => a - b);
    // One more may have been written when the power went, and not yet been acknowledged.
    expect([acknowledged, acknowledged + 1]).toContain(numbers.at(-1));
    expect(numbers).toEqual(numbers.map((_number, i) => i + 1));
    expect((await records.verify()).brokenAt).toBeNull();
  });
});

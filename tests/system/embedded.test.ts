import { cpSync, createReadStream } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { and, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readConfig } from '@cast-to-last/runtime/config';
import { audit, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { lighterScan } from '../support/lighter-scan.js';
import { emptyDatabase, openTestRecords } from '../support/open-records.js';
import { startProgram } from '../support/program.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRules, putScan } from '../support/workshop-records.js';

const SERVICE = fileURLToPath(new URL('../support/embedded-service.mjs', import.meta.url));

/** Asks for a cast to be made, without making it. */
async function askFor(dataFolder: string): Promise<string> {
  cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
  const config = readConfig({ CAST_DATA_FOLDER: dataFolder });
  const runtime = await openRuntime({ ...config, work: { ...config.work, here: false } }, QUIET);
  const scan = await putScan(runtime.records, await runtime.artifacts.add(createReadStream(await lighterScan('2044-left'))));
  const rules = await putRules(runtime.records);
  const { id } = await runtime.records.change(MAKER, 'revision.asked', { table: 'casts', id: scan.castId }, (draft) =>
    requestRevision(draft, runtime.jobs, { ...scan, ruleSetId: rules.id, decisionsId: null, origin: 'person' }));
  await runtime.close();
  return id;
}

describe('the service in one process', () => {
  it('goes on after a power cut in the middle of a cast, and makes it once', async () => {
    const dataFolder = temporaryFolder();
    const revisionId = await askFor(dataFolder);
    const env = { CAST_DATA_FOLDER: dataFolder, LOG_LEVEL: 'error' };
    const told = (event: string) => (line: string) => JSON.parse(line).event === event;

    const first = startProgram(SERVICE, [], env);
    await first.line(told('progress'));
    await first.kill();
    const second = startProgram(SERVICE, [], env);
    expect(JSON.parse(await second.line(told('ended')))).toMatchObject({ subjectId: revisionId, state: 'done' });
    expect(await second.stop()).toBe(0);
    expect(first.lines.some(told('ended'))).toBe(false);

    const records = await openTestRecords(dataFolder, null);
    const [revision] = await records.db.select().from(revisions).where(eq(revisions.id, revisionId));
    expect(revision.files.map(({ name }) => name)).toEqual(expect.arrayContaining(['report.json', 'last.stl', 'sheet.pdf']));
    expect(revision.story).toMatchObject([{ what: 'lease-ran-out' }]);
    expect(await records.db.select({ crashes: jobRows.crashes, state: jobRows.state }).from(jobRows)).toEqual([{ crashes: 1, state: 'done' }]);
    expect(await records.db.select().from(audit).where(and(eq(audit.kind, 'revision.ended'), eq(audit.subjectId, revisionId)))).toHaveLength(1);
  }, 300_000);
});

import { cpSync, createReadStream } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { STAGE_NAMES } from '@cast-to-last/pipeline/outcome';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { readConfig } from '@cast-to-last/runtime/config';
import { audit, revisions } from '@cast-to-last/runtime/records/schema';
import { jobs } from '@cast-to-last/runtime/records/working-tables';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { lighterScan } from '../support/lighter-scan.js';
import { emptyDatabase } from '../support/open-records.js';
import { startProgram } from '../support/program.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { MAKER, putRules, putScan } from '../support/workshop-records.js';

const SERVICE = fileURLToPath(new URL('../support/embedded-service.mjs', import.meta.url));

/** The beginning of each stage of a sound cast, and the moment in which its files are stored and no row names them. */
const CUTS = [...STAGE_NAMES.filter((name) => name !== 'draw-note'), 'made'];

describe('a power cut', () => {
  it(`at each boundary (${CUTS.join(', ')}) leaves one whole result each`, async () => {
    const dataFolder = temporaryFolder();
    cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
    const config = readConfig({ CAST_DATA_FOLDER: dataFolder });
    const idle = { ...config, work: { ...config.work, here: false } };

    const asking = await openRuntime(idle, QUIET);
    const scan = await putScan(asking.records, await asking.artifacts.add(createReadStream(await lighterScan('2044-left'))));
    for (const i of CUTS.keys()) {
      const rules = await putRules(asking.records, parseRules({ last: { topHeightMm: 80 + i } }));
      await asking.records.change(MAKER, 'revision.asked', { table: 'casts', id: scan.castId }, (draft) =>
        requestRevision(draft, asking.jobs, { ...scan, ruleSetId: rules.id, decisionsId: null, origin: 'person' }));
    }
    await asking.close();

    // Each start ends the cast that the cut before it stopped, and is cut itself in the next one.
    for (const [i, cut] of CUTS.entries()) {
      const env = { CAST_DATA_FOLDER: dataFolder, LOG_LEVEL: 'error', CUT_AT: cut, CUT_AFTER: String(Math.min(i, 1)) };
      expect(await startProgram(SERVICE, [], env).ended()).toBe('SIGKILL');
    }
    const last = startProgram(SERVICE, [], { CAST_DATA_FOLDER: dataFolder, LOG_LEVEL: 'error' });
    await last.line((line) => JSON.parse(line).event === 'ended');
    expect(await last.stop()).toBe(0);

    const after = await openRuntime(idle, QUIET);
    const rows = await after.records.db.select().from(revisions).orderBy(revisions.number);
    expect(rows.map(({ state, story }) => ({ state, cutIn: story.map(({ what }) => what) }))).toEqual(CUTS.map(() => ({ state: 'done', cutIn: ['lease-ran-out'] })));
    for (const { files } of rows) {
      expect(files.map(({ name }) => name)).toEqual(expect.arrayContaining(['report.json', 'last.stl', 'sheet.pdf']));
      for (const { sha256 } of files) await after.artifacts.bytes(sha256);
    }
    expect(await after.records.db.select({ crashes: jobs.crashes, state: jobs.state }).from(jobs)).toEqual(CUTS.map(() => ({ crashes: 1, state: 'done' })));
    expect(await after.records.db.select().from(audit).where(eq(audit.kind, 'revision.ended'))).toHaveLength(CUTS.length);
    expect((await after.records.verify()).brokenAt).toBeNull();
    await after.close();
  }, 600_000);
});

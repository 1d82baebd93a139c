import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { inArray } from 'drizzle-orm';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { readConfig } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import { requestRevision } from '@cast-to-last/runtime/revisions/request-revision';
import type { Figure } from './bench.js';
import { startWorker } from './running-service.js';

const COUNT = 1000;
const BY = { kind: 'program', id: null } as const;

/** A batch of 1,000 casts put into the queue at once; a worker waits. */
export async function measureQueue(servers: () => Promise<Readonly<Record<string, string>>>): Promise<Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-bench-queue-'));
  const env = { ...(await servers()), CAST_DATA_FOLDER: folder, LOG_LEVEL: 'error', DRAIN_S: '0' };
  const config = readConfig({ ...env, WORK: 'none' });
  const { records, artifacts, jobs, close } = await openRuntime(config, openLog(config, 'bench'));
  const worker = startWorker(env);
  try {
    const stored = await artifacts.add(new TextEncoder().encode('no scan'));
    const [rulesId, ids] = [randomUUID(), Array.from({ length: COUNT }, () => randomUUID())];
    await records.change(BY, 'bench', { table: 'rule_sets', id: rulesId }, async (draft) => {
      await draft.put('rule_sets', { id: rulesId, name: 'bench', number: 1, content: DEFAULT_RULES, sha256: jsonSha256(DEFAULT_RULES) });
      for (const id of ids) {
        await draft.put('orders', { id, number: id, state: 'open', content: { orderNumber: id } });
        await draft.put('casts', { id, orderId: id, side: 'left', state: 'awaiting-scan', photos: [] });
        await draft.put('scans', { id, castId: id, fileName: 'x.stl', ...stored, kind: 'positive', unit: 'auto', sideOverride: false });
      }
    });
    await records.change(BY, 'bench', { table: 'rule_sets', id: rulesId }, async (draft) => {
      for (const id of ids) await requestRevision(draft, jobs, { castId: id, scanId: id, ruleSetId: rulesId, decisionsId: null, origin: 'batch', batchId: rulesId });
    });
    const start = performance.now();
    while ((await records.db.select({ id: jobRows.id }).from(jobRows).where(inArray(jobRows.state, ['running', 'refused'])).limit(1)).length === 0) await wait(5);
    const first = (performance.now() - start) / 1000;
    return [{ what: '1,000 queued jobs, until the first is taken', bar: '≤ 2 s', measured: `${first.toFixed(2)} s`, holds: first <= 2 }];
  } finally {
    await worker.stop();
    await close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}

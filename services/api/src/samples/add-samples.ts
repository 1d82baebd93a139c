import { randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { eq } from 'drizzle-orm';
import { PRIORITY } from '@cast-to-last/runtime/jobs/limits';
import { orders } from '@cast-to-last/runtime/records/schema';
import { jobs as jobRows } from '@cast-to-last/runtime/records/working-tables';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { askRevision } from '../routes/revisions/ask-revision.js';
import { PROGRAM } from '@cast-to-last/runtime/records/changes/entry';

const RULES = 'workshop.rules.json';
/** Its casts wait for their scans, so that the first minutes have something to do. */
export const FIRST_STEPS_ORDER = '2044';

/** A sample's scan in its folder; null for any other file. */
export function sampleScanOf(name: string, orderNumber: string): { fileName: string; side: 'left' | 'right' } | null {
  const side = /-(left|right)\.(stl|ply|obj)$/.exec(name)?.[1] as 'left' | 'right' | undefined;
  return side !== undefined && name.startsWith(`${orderNumber}-`) ? { fileName: name, side } : null;
}

/**
 * Books in the sample orders of a folder with their casts, and with their scans but for those of the order for the first
 * steps; by the sample rules. Begins the work on them: on how many casts. What a person uploads goes before it. Nothing where
 * there are orders already. Files: NUMBER.order.json, NUMBER-SIDE.stl|ply|obj, workshop.rules.json.
 */
export async function addSamples({ records, artifacts, jobs }: Pick<Runtime, 'records' | 'artifacts' | 'jobs'>, folder: string): Promise<number> {
  if ((await records.db.select({ id: orders.id }).from(orders).limit(1)).length > 0) return 0;
  const names = (await readdir(folder)).sort();
  const json = async (name: string): Promise<unknown> => JSON.parse(await readFile(join(folder, name), 'utf8'));
  const ruleSetId = randomUUID();
  const rules = parseRules(await json(RULES));
  await records.change(PROGRAM, 'rules.added', { table: 'rule_sets', id: ruleSetId }, (draft) =>
    draft.put('rule_sets', { id: ruleSetId, name: rules.name, number: 1, content: rules, sha256: jsonSha256(rules), note: 'Rules of the samples.' }));

  let count = 0;
  for (const name of names.filter((n) => n.endsWith('.order.json'))) {
    const content = parseOrder(await json(name));
    const scans = names.flatMap((n) => sampleScanOf(n, content.orderNumber) ?? []);
    const waits = content.orderNumber === FIRST_STEPS_ORDER;
    const stored = waits ? [] : await Promise.all(scans.map(async (scan) => ({ ...scan, ...(await artifacts.add(createReadStream(join(folder, scan.fileName)))) })));
    const orderId = randomUUID();
    await records.change(PROGRAM, 'order.added', { table: 'orders', id: orderId }, async (draft) => {
      await draft.put('orders', { id: orderId, number: content.orderNumber, state: 'open', content, discipline: content.discipline ?? null });
      if (waits) for (const { side } of scans) await draft.put('casts', { id: randomUUID(), orderId, side, state: 'awaiting-scan', arrivedAt: draft.at, photos: [] });
      for (const { side, ...file } of stored) {
        const [castId, scanId] = [randomUUID(), randomUUID()];
        await draft.put('casts', { id: castId, orderId, side, state: 'awaiting-scan', arrivedAt: draft.at, photos: [] });
        await draft.put('scans', { id: scanId, castId, ...file, kind: 'positive', unit: 'auto', sideOverride: false });
        const { id: revisionId } = await askRevision(draft, jobs, { castId, scanId, ruleSetId, decisionsId: null });
        await draft.tx.update(jobRows).set({ priority: PRIORITY.batch }).where(eq(jobRows.subjectId, revisionId));
        count++;
      }
    });
  }
  return count;
}

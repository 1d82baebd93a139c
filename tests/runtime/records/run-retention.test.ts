import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { runRetention } from '@cast-to-last/runtime/records/run-retention';
import { audit, customers } from '@cast-to-last/runtime/records/schema';
import { openTestRecords } from '../../support/open-records.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { putRow } from '../../support/workshop-records.js';

it('a retention run erases those past their date without an open order, once, and the audit log keeps that it did', async () => {
  const folder = temporaryFolder();
  const records = await openTestRecords(folder, null);
  const context = { records, ...(await openStore({ dataFolder: folder, objectStore: null })) };
  for (const [id, retainUntil, state] of [['past', '2026-03-01', 'closed'], ['today', '2026-03-02', 'closed'], ['open', '2026-01-01', 'open'], ['never', null, 'closed']] as const) {
    await putRow(records, 'customers', { id, number: `K-${id}`, name: `name of ${id}`, retainUntil });
    await putRow(records, 'orders', { id: `order of ${id}`, number: id, customerId: id, state, content: { orderNumber: id } });
  }
  expect(await runRetention(context, '2026-03-02')).toEqual({ erased: ['K-past'], left: ['K-open'] });
  const kept = await records.db.select({ id: customers.id, name: customers.name, erased: customers.erasedAt }).from(customers).orderBy(customers.id);
  expect(kept.map(({ id, name, erased }) => [id, name, erased !== null])).toEqual([['never', 'name of never', false], ['open', 'name of open', false], ['past', null, true], ['today', 'name of today', false]]);
  expect(await records.db.select({ kind: audit.kind, by: audit.actorKind, of: audit.subjectId }).from(audit).where(eq(audit.kind, 'customer.erased'))).toEqual([{ kind: 'customer.erased', by: 'program', of: 'past' }]);
  expect(await runRetention(context, '2026-03-02')).toEqual({ erased: [], left: ['K-open'] });
  expect(await runRetention(context, '2026-03-03')).toEqual({ erased: ['K-today'], left: ['K-open'] });
});

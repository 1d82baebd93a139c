import { randomUUID } from 'node:crypto';
import { desc, eq, inArray, isNull } from 'drizzle-orm';
import { z } from 'zod';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import type { ScannerRules } from '@cast-to-last/pipeline/rules/scanner-rules';
import { judgeScanner } from '@cast-to-last/pipeline/scanner/scanner-verdict';
import { scannerWarnings } from '@cast-to-last/pipeline/scanner/scanner-warnings';
import type { Db } from '@cast-to-last/runtime/records/database';
import { scannerChecks, scanners } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { expectCurrent } from '../../http/expect-current.js';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { currentRules } from '../rules/current-rules.js';

const DAY_MS = 86_400_000;
const name = z.string().trim().min(1).max(80);

const shown = ({ id, version, name: of, retiredAt, createdAt, changedAt }: RowOf<'scanners'>) => ({ id, version, name: of, retiredAt, createdAt, changedAt });
export const shownCheck = ({ id, scannerId, at, verdict, content }: RowOf<'scanner_checks'>) => ({ id, scannerId, at, verdict, content });

/** How a scanner stands today by the newest rules; `checks` oldest first. */
function standing(scanner: RowOf<'scanners'>, checks: readonly StoredScannerCheck[], limits: ScannerRules) {
  const last = checks.at(-1);
  return {
    checkedOn: last?.date ?? null,
    goodUntil: last === undefined ? null : new Date(Date.parse(`${last.date}T00:00:00Z`) + limits.validDays * DAY_MS).toISOString().slice(0, 10),
    verdict: last === undefined ? null : judgeScanner(last, limits).verdict,
    warnings: scannerWarnings({ schema: 1, scanner: scanner.name, checks: [...checks] }, new Date().toISOString().slice(0, 10), limits),
  };
}

export const limitsOf = async (db: Db): Promise<ScannerRules> => parseRules((await currentRules({ tx: db })).content).scanner;

async function checksOf(db: Db, scannerIds: readonly string[]): Promise<Map<string, RowOf<'scanner_checks'>[]>> {
  const rows = scannerIds.length === 0 ? [] : await db.select().from(scannerChecks).where(inArray(scannerChecks.scannerId, [...scannerIds])).orderBy(desc(scannerChecks.at), desc(scannerChecks.createdAt));
  return new Map(scannerIds.map((id) => [id, rows.filter(({ scannerId }) => scannerId === id)]));
}

const oldestFirst = (rows: readonly RowOf<'scanner_checks'>[] = []): StoredScannerCheck[] => rows.map(({ content }) => content).reverse();

export const listScanners = route({
  method: 'get', path: '/scanners', summary: 'Scanners with how they stand by their last check and the newest rules, by name; retired ones where asked for.',
  query: z.strictObject({ retired: z.enum(['no', 'yes']).default('no') }),
  handle: async ({ service: { runtime: { records: { db } } }, query: { retired } }) => {
    const rows = await db.select().from(scanners).where(retired === 'no' ? isNull(scanners.retiredAt) : undefined).orderBy(scanners.name);
    const [checks, limits] = [await checksOf(db, rows.map(({ id }) => id)), await limitsOf(db)];
    return { body: { items: rows.map((row) => ({ ...shown(row), ...standing(row, oldestFirst(checks.get(row.id)), limits) })), next: null } };
  },
});

export const addScanner = route({
  method: 'post', path: '/scanners', summary: 'Adds a scanner by the name that the workshop gives it.', status: 201, body: z.strictObject({ name }),
  handle: async ({ service: { runtime }, by, body }) => {
    const id = randomUUID();
    const row = await runtime.records.change(by, 'scanner.added', { table: 'scanners', id }, (draft) => draft.put('scanners', { id, name: body.name }));
    return { status: 201, body: { ...shown(row), ...standing(row, [], await limitsOf(runtime.records.db)) }, version: row.version, headers: { Location: `/api/v1/scanners/${id}` } };
  },
});

export const readScanner = route({
  method: 'get', path: '/scanners/:id', summary: 'One scanner with its checks, newest first.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select().from(scanners).where(eq(scanners.id, id));
    if (row === undefined) throw notFound('scanner');
    const checks = (await checksOf(db, [id])).get(id) ?? [];
    return { body: { ...shown(row), ...standing(row, oldestFirst(checks), await limitsOf(db)), checks: checks.map(shownCheck) }, version: row.version };
  },
});

export const changeScanner = route({
  method: 'patch', path: '/scanners/:id', summary: 'Renames a scanner, retires it or takes it into use again.', body: z.strictObject({ name, retired: z.boolean() }).partial(), conditional: true,
  handle: async ({ service: { runtime }, by, params: { id }, body, ifMatch }) => {
    const version = ifMatch();
    const row = await runtime.records.change(by, 'scanner.changed', { table: 'scanners', id }, async (draft) => {
      const before = await expectCurrent(draft, 'scanners', id, version, shown);
      const retiredAt = body.retired === undefined ? before.retiredAt : body.retired ? (before.retiredAt ?? draft.at) : null;
      return draft.put('scanners', { ...before, name: body.name ?? before.name, retiredAt });
    });
    const { db } = runtime.records;
    return { body: { ...shown(row), ...standing(row, oldestFirst((await checksOf(db, [id])).get(id)), await limitsOf(db)) }, version: row.version };
  },
});

import { expect, it } from 'vitest';
import { BadArchive } from '@cast-to-last/runtime/archives/bad-archive';
import { importOrder } from '@cast-to-last/runtime/archives/import-order';
import { parseManifest } from '@cast-to-last/runtime/archives/parse-manifest';
import type { Records } from '@cast-to-last/runtime/records/records';
import { soundArchive } from '../support/sound-archive.js';

type Changed = { rows: Record<string, Record<string, unknown>[]> };

const nested = (levels: number): unknown => (levels === 0 ? 1 : [nested(levels - 1)]);

/** No database is asked: the archive is refused before. */
const records = { change: () => { throw new Error('it came as far as the database'); } } as unknown as Records;

it.each<[string, (manifest: Changed) => void]>([
  ['a text with a sign that no column takes', ({ rows }) => void (rows.casts[0].note = 'a\u0000b')],
  ['half of a sign', ({ rows }) => void (rows.orders[0].content = { orderNumber: '4107', remarks: '\ud800' })],
  ['such a sign inside of JSON', ({ rows }) => void (rows.revisions[0].summary = { text: '\u0000' })],
  ['a year that no calendar has', ({ rows }) => void (rows.orders[0].createdAt = '0000-01-01T00:00:00Z')],
  ['a number beyond its column', ({ rows }) => void (rows.revisions[0].number = 2 ** 31)],
  ['nesting that fills the stack', ({ rows }) => void (rows.revisions[0].story = [{ deep: nested(3000) }])],
  ['a row that is there twice', ({ rows }) => void rows.decisions.push(rows.decisions[0])],
])('an archive with %s is refused as one', async (_what, change) => {
  const { manifest } = soundArchive((nth) => `10000000-0000-4000-8000-${String(nth).padStart(12, '0')}`, '4107');
  const changed = JSON.parse(JSON.stringify(manifest)) as Changed;
  const take = async (value: unknown) => importOrder(records, { kind: 'person', id: 'p-1' }, parseManifest(new TextEncoder().encode(JSON.stringify(value))));
  await expect(take(changed)).rejects.toThrow('it came as far as the database');
  change(changed);
  await expect(take(changed)).rejects.toThrow(BadArchive);
});

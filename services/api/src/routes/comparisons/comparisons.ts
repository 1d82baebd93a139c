import { createHash } from 'node:crypto';
import { eq, inArray } from 'drizzle-orm';
import { z } from 'zod';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { canonicalJson } from '@cast-to-last/pipeline/digest';
import { revisions } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { comparisons } from '@cast-to-last/runtime/records/working-tables';
import { PROGRAM_VERSION } from '@cast-to-last/runtime/program-version';
import { conflict, notFound, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { mediaType, sendFile } from '../../http/send-file.js';
import { currentRules } from '../rules/current-rules.js';

/** Raised where the same two results would be compared in another way. */
const COMPARISON_VERSION = 1;

const which = z.strictObject({ revisionId: z.uuid() });

const shown = ({ id, firstRevisionId, secondRevisionId, of, report, files, createdAt }: typeof comparisons.$inferSelect) =>
  ({ id, first: { revisionId: firstRevisionId }, second: { revisionId: secondRevisionId }, of, report, files, createdAt });

export const addComparison = route({
  method: 'post', path: '/comparisons', summary: 'Lays two results on each other, left and right or then and now, by the limits of the newest rules; the same two are compared once.', status: 201,
  body: z.strictObject({ first: which, second: which, of: z.enum(['cast', 'last']).default('cast') }),
  handle: async ({ service: { runtime: { records: { db } }, geometry }, body: { first, second, of } }) => {
    if (first.revisionId === second.revisionId) throw unusable([{ path: 'second.revisionId', message: 'is the first one again' }]);
    const rows = await db.select().from(revisions).where(inArray(revisions.id, [first.revisionId, second.revisionId]));
    const [a, b] = [first, second].map(({ revisionId }) => made(rows.find(({ id }) => id === revisionId)));
    const rules = parseRules((await currentRules({ tx: db })).content);
    const id = keyOf({ version: COMPARISON_VERSION, program: PROGRAM_VERSION, first: digestsOf(a), second: digestsOf(b), of, check: rules.check, sheet: rules.sheet, rules: [rules.name, rules.version] });
    const [there] = await db.select().from(comparisons).where(eq(comparisons.id, id));
    if (there !== undefined) return { status: 200, body: shown(there) };
    const { report, files } = await geometry.run('compare-casts', { first: a.files, second: b.files, of, rules, programVersion: PROGRAM_VERSION });
    const row = { id, firstRevisionId: a.id, secondRevisionId: b.id, of, report, files, createdAt: new Date().toISOString() };
    // Another request may have done the same meanwhile.
    await db.insert(comparisons).values(row).onConflictDoNothing();
    return { status: 201, body: shown(row), headers: { Location: `/api/v1/comparisons/${id}` } };
  },
});

export const readComparison = route({
  method: 'get', path: '/comparisons/:id', summary: 'One comparison.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select().from(comparisons).where(eq(comparisons.id, id));
    if (row === undefined) throw notFound('comparison');
    return { body: shown(row) };
  },
});

export const readComparisonFile = route({
  method: 'get', path: '/comparisons/:id/files/:name', summary: 'A file of a comparison: compare.json, compare.pdf or deviation.glb. Ranges and ETags are served.', produces: 'application/octet-stream',
  handle: async ({ service: { runtime: { records: { db }, artifacts } }, params: { id, name }, request, response }) => {
    const [row] = await db.select({ files: comparisons.files }).from(comparisons).where(eq(comparisons.id, id));
    const file = row?.files.find((kept) => kept.name === name);
    if (file === undefined) throw notFound('file of this comparison');
    await sendFile(artifacts, request, response, { ...file, type: mediaType(name), offeredAs: name, lasting: true });
    return null;
  },
});

function made(revision: RowOf<'revisions'> | undefined): RowOf<'revisions'> {
  if (revision === undefined) throw notFound('revision');
  if (revision.state !== 'done') throw conflict('nothing-to-compare', `Revision ${revision.number} is ${revision.state}.`, 'Only results that were made can be compared.', { revisionId: revision.id });
  return revision;
}

const digestsOf = ({ files }: RowOf<'revisions'>): unknown => files.map(({ name, sha256 }) => [name, sha256]);

/** A UUID of all that goes into a comparison: version 8 of RFC 9562, whose bits are the maker's own. */
function keyOf(inputs: unknown): string {
  const bytes = createHash('sha256').update(canonicalJson(inputs)).digest().subarray(0, 16);
  bytes[6] = (bytes[6] & 0x0f) | 0x80;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

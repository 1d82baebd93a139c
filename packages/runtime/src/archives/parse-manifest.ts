import { z } from 'zod';
import { parseDecisions } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { instantText } from '../records/instant-text.js';
import { textFaults } from '../records/text-faults.js';
import type { ArchiveManifest } from './archive-manifest.js';
import { BadArchive } from './bad-archive.js';
import { CAST_STATES, ORDER_STATES, REVISION_STATES } from '../records/states.js';

/** What an archive says of itself is checked as anything else that comes from outside. */

const id = z.uuid();
const instant = instantText;
const text = (most: number) => z.string().max(most);
const sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'must be a digest');
const bytes = z.int().min(0);
/** As large as a column of whole numbers takes. */
const ordinal = z.int().min(1).max(2 ** 31 - 1);
const row = { id, version: z.int().min(1), createdAt: instant, changedAt: instant };
const file = z.object({ name: text(200).min(1), sha256, size: bytes });
const json = z.record(z.string(), z.unknown());
/** Read by the pipeline's own readers, which name every bad key. */
const by = <T>(read: (value: unknown) => T) => z.unknown().transform((value, context): T => {
  try {
    return read(value);
  } catch (error) {
    if (!(error instanceof CastError)) throw error;
    context.addIssue({ code: 'custom', message: error.message });
    return z.NEVER;
  }
});

const rows = z.object({
  customers: z.array(z.object({ ...row, number: text(80).min(1), name: text(200).nullable(), contact: text(500).nullable(), consent: z.object({ at: instant, text: text(4000) }).nullable(), retainUntil: text(10).nullable(), erasedAt: instant.nullable() })),
  orders: z.array(z.object({ ...row, number: text(80).min(1), customerId: id.nullable(), state: z.enum(ORDER_STATES), content: by(parseOrder), discipline: text(60).nullable() })),
  casts: z.array(z.object({
    ...row, orderId: id, side: z.enum(['left', 'right']), state: z.enum(CAST_STATES), arrivedAt: instant.nullable(),
    drying: z.object({ since: instant.optional(), until: instant.optional(), how: text(200).optional() }).nullable(), photos: z.array(file.extend({ type: z.enum(['image/jpeg', 'image/png']) })).max(100),
    note: text(2000).nullable(), recastOfId: id.nullable(), currentRevisionId: id.nullable(), approvedRevisionId: id.nullable(),
  })),
  scans: z.array(z.object({
    ...row, castId: id, fileName: text(200).min(1), sha256, size: bytes, kind: z.enum(['positive', 'outside', 'inside']), unit: z.enum(['auto', 'mm', 'cm', 'm', 'in']), wallMm: z.number().nullable(),
    sideOverride: z.boolean(), scannerId: id.nullable(), personId: id.nullable(),
  })),
  rule_sets: z.array(z.object({ ...row, name: text(120).min(1), number: ordinal, content: by(parseRules), sha256, note: text(2000).nullable(), personId: id.nullable() })),
  decisions: z.array(z.object({ ...row, scanId: id, content: by(parseDecisions), sha256, personId: id.nullable() })),
  revisions: z.array(z.object({
    ...row, castId: id, scanId: id, ruleSetId: id, decisionsId: id.nullable(), number: ordinal, inputsSha256: sha256, origin: z.enum(['person', 'batch', 'import']), batchId: id.nullable(),
    state: z.enum(REVISION_STATES).exclude(['waiting']), files: z.array(file).max(200), summary: json.nullable(), refusal: z.object({ code: text(80), message: text(4000), remedy: text(4000) }).nullable(),
    story: z.array(json).max(100), fingerprint: text(64).nullable(), programVersion: text(40).nullable(), endedAt: instant.nullable(),
  })),
  approvals: z.array(z.object({ ...row, castId: id, revisionId: id, verdict: z.enum(['approved', 'sent-back', 'recast']), reason: text(2000).nullable(), fingerprint: text(64).nullable(), personId: text(80) })),
});

const manifest = z.object({
  schema: z.literal(1, { error: 'must be 1; this version of the program knows no other form' }),
  what: z.enum(['order', 'customer']),
  exportedAt: instant,
  program: z.object({ version: text(40) }),
  rows,
  people: z.array(z.object({ id, displayName: text(200) })).max(10_000),
  files: z.array(z.object({ path: text(400).min(1), sha256, size: bytes })).max(20_000),
  history: z.array(z.object({ at: instant, kind: text(80), by: text(20) })).max(100_000),
}).superRefine(({ rows: { casts, scans, revisions }, files }, context) => {
  const there = new Set(files.map((f) => f.sha256));
  const named = [...scans, ...casts.flatMap(({ photos }) => photos), ...revisions.flatMap((revision) => revision.files)];
  if (named.some((f) => !there.has(f.sha256))) context.addIssue({ code: 'custom', path: ['files'], message: 'lack a file that a row names' });
});

/** The manifest in the bytes of its file. Throws BadArchive that names the first bad keys. */
export function parseManifest(content: Uint8Array): ArchiveManifest {
  let value: unknown;
  try {
    value = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(content));
  } catch {
    throw new BadArchive('Its manifest.json is no JSON.');
  }
  const texts = textFaults(value);
  if (texts.length > 0) throw unusable(texts.map(({ path, message }) => `${path} ${message}`));
  const parsed = manifest.safeParse(value);
  if (parsed.success) return parsed.data as unknown as ArchiveManifest;
  throw unusable(parsed.error.issues.map(({ path, message }) => `${path.join('.')} ${message}`));
}

const unusable = (faults: readonly string[]): BadArchive => new BadArchive(`Its manifest.json cannot be used: ${faults.slice(0, 5).join('; ')}.`);

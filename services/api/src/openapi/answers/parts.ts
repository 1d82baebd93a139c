import { z } from 'zod';
import { CAST_STATES, JOB_STATES, ORDER_STATES, REVISION_STATES } from '@cast-to-last/runtime/records/states';

/** What answers are made of. Further keys may come with later versions, so none is closed. */

export const id = z.string().meta({ format: 'uuid' });
export const instant = z.iso.datetime();
export const text = z.string();
export const version = z.int().min(1);
export const json = z.record(z.string(), z.unknown());
export const side = z.enum(['left', 'right']);
const digest = z.string().meta({ pattern: '^[0-9a-f]{64}$' });
const row = { id, version, createdAt: instant, changedAt: instant };

export const list = <Item extends z.ZodType>(item: Item) => z.looseObject({ items: z.array(item), next: text.nullable().meta({ description: 'For `after` of the next page; null where this is the last.' }) });

const storedFile = z.looseObject({ name: text, sha256: digest, size: z.int().min(0) });
const photo = storedFile.extend({ type: text });
export const refusal = z.looseObject({ code: text, message: text, remedy: text });
export const story = z.looseObject({ at: instant, what: text, worker: text.nullable(), stage: text.nullable(), text });

export const customer = z.looseObject({ ...row, number: text, name: text.nullable(), contact: text.nullable(), consent: z.looseObject({ at: instant, text }).nullable(), retainUntil: text.nullable(), erasedAt: instant.nullable() });
export const order = z.looseObject({ ...row, number: text, customerId: text.nullable(), state: z.enum(ORDER_STATES), content: z.looseObject({ orderNumber: text }), discipline: text.nullable() });
export const castState = z.enum(CAST_STATES);
export const cast = z.looseObject({
  ...row, orderId: id, side, state: castState, arrivedAt: instant.nullable(), drying: z.looseObject({}).nullable(), photos: z.array(photo), note: text.nullable(), recastOfId: id.nullable(),
  currentRevisionId: id.nullable(), approvedRevisionId: id.nullable(),
});
export const verdict = z.enum(['usable', 'usable-with-care', 'recast']);

const jobState = z.enum(JOB_STATES);
const progress = { stage: text.nullable(), done: z.int().nullable(), of: z.int().nullable() };
/** In lists of casts. */
export const jobOfCast = z.looseObject({ id, state: jobState, ...progress });
export const job = z.looseObject({
  id, kind: text, revisionId: id, revisionNumber: z.int(), castId: id, orderId: id, orderNumber: text, customerNumber: text.nullable(), side, batchId: id.nullable(), batchName: text.nullable(), priority: z.int(), lane: text,
  state: jobState, attempts: z.int(), crashes: z.int(), ...progress, cancelAsked: z.boolean(), fault: text.nullable(), refusal: refusal.nullable(), story: z.array(story), createdAt: instant, startedAt: instant.nullable(), endedAt: instant.nullable(),
});

export const approval = z.looseObject({ id, castId: id, revisionId: id, verdict: z.enum(['approved', 'sent-back', 'recast']), reason: text.nullable(), fingerprint: text.nullable(), personId: text, createdAt: instant });
export const revisionState = z.enum(REVISION_STATES);
export const listedRevision = z.looseObject({
  id, version, castId: id, scanId: id, number: z.int().min(1), state: revisionState, origin: z.enum(['person', 'batch', 'import']), batchId: id.nullable(), rulesId: id, decisionsId: id.nullable(),
  fingerprint: digest.nullable(), programVersion: text.nullable(), createdAt: instant, endedAt: instant.nullable(),
});
const summary = z.looseObject({
  verdict, findings: z.array(z.looseObject({ code: text, severity: text, text })), marks: z.looseObject({ smooth: z.int(), keep: z.int(), ask: z.int() }), measurements: z.array(z.looseObject({ id: text })),
  sizes: z.looseObject({}), triangles: z.looseObject({ scan: z.int(), last: z.int() }), stages: z.array(z.looseObject({ name: text, durationMs: z.number(), cached: z.boolean() })), warnings: z.array(text),
});
export const revision = listedRevision.extend({
  rules: z.looseObject({ id, name: text, number: z.int() }), decisions: z.looseObject({ marks: z.array(json), patches: z.array(json) }), files: z.array(storedFile), preview: z.array(storedFile),
  scan: z.looseObject({ kind: text, unit: text, wallMm: z.number().nullable(), scannerId: id.nullable() }).nullable(),
  summary: summary.nullable(), refusal: refusal.nullable(), story: z.array(story), approval: approval.nullable(), job: job.nullable(),
});

export const person = z.looseObject({ id, version, name: text, displayName: text, role: z.enum(['assistant', 'maker', 'administrator']), state: z.enum(['active', 'disabled']) });
export const session = z.looseObject({ person, csrf: text });
export const token = z.looseObject({ id, version, name: text, scope: text, createdAt: instant, expiresAt: instant.nullable(), revokedAt: instant.nullable() });

export const listedRules = z.looseObject({ id, version, name: text, number: z.int().min(1), sha256: digest, note: text.nullable(), personId: text.nullable(), createdAt: instant });
export const rules = listedRules.extend({ content: z.looseObject({ name: text }) });

export const batch = z.looseObject({ id, version, name: text, rulesId: id, filter: json, trial: z.boolean(), casts: z.int(), state: z.enum(['running', 'paused', 'cancelled', 'ended']), personId: text.nullable(), createdAt: instant, changedAt: instant });
export const countedBatch = batch.extend({ rulesName: text, rulesNumber: z.int(), personName: text.nullable(), counts: z.looseObject({ asked: z.int(), compared: z.int(), accepted: z.int(), declined: z.int(), done: z.int(), failed: z.int() }) });

export const scannerCheck = z.looseObject({ id, scannerId: id, at: instant, verdict: z.enum(['within-limits', 'out-of-limits']), content: z.looseObject({ date: text, balls: z.array(json) }) });
export const scanner = z.looseObject({ ...row, name: text, retiredAt: instant.nullable(), checkedOn: text.nullable(), goodUntil: text.nullable(), verdict: z.enum(['within-limits', 'out-of-limits']).nullable(), warnings: z.array(text) });
export const comparison = z.looseObject({ id, first: z.looseObject({ revisionId: id }), second: z.looseObject({ revisionId: id }), of: z.enum(['cast', 'last']), report: z.looseObject({ schema: z.literal(1), relation: z.enum(['other-side', 'same-side']) }), files: z.array(storedFile), createdAt: instant });

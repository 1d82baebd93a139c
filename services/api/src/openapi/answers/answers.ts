import { z } from 'zod';
import { WAITS } from '../../routes/orders/waits-for.js';
import {
  approval, batch, cast, castState, comparison, countedBatch, customer, id, instant, job, jobOfCast, json, list, listedRevision, listedRules, order, person, refusal, revision, revisionState, rules,
  scanner, scannerCheck, session, side, story, text, token, verdict, version,
} from './parts.js';

const asks = z.int().nullable();
const waits = z.enum(WAITS);
const itemIds = z.array(id);
const castInList = z.looseObject({ id, side, state: castState, verdict: verdict.nullable(), asks, job: jobOfCast.nullable() });
const beganUpload = z.union([
  z.looseObject({ id, received: z.int().min(0), size: z.int(), partSize: z.int() }).meta({ title: 'Begun', description: 'Bytes are sent next.' }),
  z.looseObject({ castId: id, scanId: id, revisionId: id }).meta({ title: 'Known', description: 'The same scan is there already.' }),
]);
const keptScan = z.looseObject({ castId: id, scanId: id, revisionId: id, jobId: id.nullable().optional() });

/** What each route answers where it succeeds with JSON, by its key in the table of roles. */
export const ANSWERS: Readonly<Record<string, z.ZodType>> = {
  'GET /health': z.looseObject({ state: z.literal('alive') }),
  'GET /ready': z.looseObject({ state: z.enum(['ready', 'not-ready']), parts: z.record(text, z.boolean()) }),
  'GET /openapi.json': z.looseObject({ openapi: text, paths: json }),
  'POST /first-account': session,
  'POST /session': session,
  'GET /session': session,

  'GET /people': list(person),
  'POST /people': person,
  'PATCH /people/:id': person,
  'GET /tokens': list(token),
  'POST /tokens': token.extend({ token: text }),
  'GET /audit': list(z.looseObject({ seq: z.int().min(1), at: instant, actorKind: z.enum(['person', 'station', 'program']), actorId: text.nullable(), kind: text, subjectTable: text, subjectId: text, sha256: text })),

  'GET /customers': list(customer),
  'POST /customers': customer,
  'GET /customers/:id': customer,
  'PATCH /customers/:id': customer,
  'GET /customers/:id/history': list(z.looseObject({ castId: id, orderId: id, side, state: castState, measures: z.record(text, z.number()) })),

  'GET /orders': list(order.extend({ customerNumber: text.nullable(), customerName: text.nullable(), casts: z.array(castInList) })),
  'POST /orders': order,
  'GET /orders/:id': order.extend({ customerNumber: text.nullable(), customerName: text.nullable(), casts: z.array(cast) }),
  'PATCH /orders/:id': order,
  'POST /orders/:id/casts': cast,
  'GET /arrivals': list(z.looseObject({ id, number: text, casts: z.array(z.looseObject({ id, side, state: castState, waits })) })),
  'GET /arrivals/counts': z.record(text, z.int()),

  'GET /casts': list(z.looseObject({
    id, version, orderId: id, orderNumber: text, discipline: text.nullable(), customerId: text.nullable(), customerNumber: text.nullable(), customerName: text.nullable(), side, state: castState,
    arrivedAt: instant.nullable(), createdAt: instant, changedAt: instant, waits, waitingSince: instant.nullable(), currentRevisionId: id.nullable(), approvedRevisionId: id.nullable(),
    verdict: verdict.nullable(), asks, warnings: z.int().nullable(), job: jobOfCast.nullable(),
  })),
  'GET /casts/:id': cast.extend({ orderNumber: text }),
  'PATCH /casts/:id': cast,
  'POST /casts/:id/rules': z.looseObject({ rulesId: id, name: text }),
  'POST /casts/:id/photos': cast,
  'POST /casts/:id/uploads': beganUpload,
  'POST /orders/:id/uploads': beganUpload,
  'POST /uploads': beganUpload,
  'GET /uploads/:id': z.looseObject({ id, castId: id.nullable(), orderId: id.nullable(), size: z.int(), received: z.int().min(0) }),
  'PATCH /uploads/:id': z.looseObject({ received: z.int().min(0), size: z.int() }),
  'POST /uploads/:id/side': z.looseObject({ side: side.nullable(), sure: z.boolean(), why: text }),
  'POST /uploads/:id/finish': keptScan,
  'POST /scans/:id/again': keptScan,

  'GET /casts/:id/revisions': list(listedRevision),
  'POST /casts/:id/revisions': z.looseObject({ revisionId: id, jobId: id.nullable(), state: revisionState }),
  'GET /revisions/:id': revision,
  'POST /revisions/:id/approval': z.looseObject({ approval, cast }),
  'GET /casts/:id/approvals': list(approval),

  'GET /samples/first-steps': z.looseObject({ orderId: id, orderNumber: text, casts: z.array(z.looseObject({ id, side, state: castState })), scans: z.array(z.looseObject({ fileName: text, side })) }).nullable(),

  'POST /archives': z.looseObject({ orderId: id, imported: z.boolean() }),
  'POST /comparisons': comparison,
  'GET /comparisons/:id': comparison,

  'GET /scanners': list(scanner),
  'POST /scanners': scanner,
  'GET /scanners/:id': scanner.extend({ checks: z.array(scannerCheck) }),
  'PATCH /scanners/:id': scanner,
  'POST /scanners/:id/checks': scannerCheck,

  'GET /jobs': list(job),
  'GET /jobs/:id': job,
  'POST /jobs/:id/cancel': job,
  'POST /jobs/:id/retry': job,

  'GET /rules': list(listedRules),
  'GET /rules/schema': z.looseObject({ $schema: text, type: z.literal('object'), properties: json }),
  'GET /rules/:id': rules,
  'POST /rules': rules,
  'GET /rules/:id/diff/:otherId': z.looseObject({ differences: z.array(z.looseObject({ path: text })) }),
  'POST /rules/check': z.looseObject({ faults: z.array(z.looseObject({ path: text, message: text })), content: json.nullable() }),
  'POST /rules/trial': batch,

  'GET /batches': list(countedBatch),
  'POST /batches': batch,
  'POST /batches/reach': z.looseObject({ casts: z.int(), approved: z.int(), byThese: z.int(), disciplines: z.array(z.looseObject({ name: text, casts: z.int() })), secondsEach: z.number().nullable() }),
  'GET /batches/:id': countedBatch,
  'GET /batches/:id/items': list(z.looseObject({
    id, version, createdAt: instant, castId: id, revisionId: id.nullable(), againstId: id.nullable(), comparison: json.nullable(), verdict: z.enum(['accepted', 'declined']).nullable(), orderNumber: text.nullable(),
    side: side.nullable(), state: revisionState.nullable(), refusal: refusal.nullable(), story: z.array(story).nullable(),
  })),
  'POST /batches/:id/pause': batch,
  'POST /batches/:id/resume': batch,
  'POST /batches/:id/cancel': batch,
  'POST /batches/:id/retry': batch,
  'GET /batches/:id/within': z.looseObject({ itemIds }),
  'POST /batches/:id/accept': z.looseObject({ accepted: itemIds, left: z.array(z.looseObject({ itemId: id, why: text })) }),
  'POST /batches/:id/decline': z.looseObject({ declined: itemIds }),
  'POST /batches/:id/reopen': z.looseObject({ reopened: itemIds }),
};

/** Routes that succeed without a body. */
export const WITHOUT_BODY: ReadonlySet<string> = new Set(['DELETE /session', 'POST /people/:id/password', 'DELETE /tokens/:id', 'POST /customers/:id/erase', 'DELETE /uploads/:id']);

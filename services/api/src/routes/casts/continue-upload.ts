import { and, eq, gt } from 'drizzle-orm';
import { uploads } from '@cast-to-last/runtime/records/working-tables';
import { Problem, conflict, notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import type { Call } from '../../http/route.js';
import { refuseTooMany } from './store-upload.js';

/** Uploads of which a part is just coming in: two at once would mix. */
const busy = new Set<string>();

/** An upload that holds still; a station sees its own alone. */
export async function uploadOf({ service, who, params: { id } }: Pick<Call, 'service' | 'who' | 'params'>): Promise<typeof uploads.$inferSelect> {
  const [row] = await service.runtime.records.db.select().from(uploads).where(and(eq(uploads.id, id), gt(uploads.expiresAt, new Date().toISOString())));
  if (row === undefined || (who.kind === 'station' && row.personId !== who.id)) throw notFound('upload');
  return row;
}

/** Runs what nothing else may do to the same upload meanwhile. */
export async function alone<T>(uploadId: string, run: () => Promise<T>): Promise<T> {
  if (busy.has(uploadId)) throw conflict('upload-busy', 'Another part of this upload is coming in.', 'Wait for it, ask how much is there, and go on from there.');
  busy.add(uploadId);
  try {
    return await run();
  } finally {
    busy.delete(uploadId);
  }
}

export const readUpload = route({
  method: 'get', path: '/uploads/:id', summary: 'How much of an upload is there.',
  handle: async (call) => {
    const { id, size, castId, orderId, sha256 } = await uploadOf(call);
    return { body: { id, castId, orderId, size, received: sha256 === null ? await call.service.runtime.artifacts.received(id) : size } };
  },
});

export const addPart = route({
  method: 'patch', path: '/uploads/:id', summary: 'Adds bytes to an upload after those that are there; the header upload-offset says how many that are.', body: 'bytes',
  handle: async (call) => {
    const { service: { runtime: { artifacts }, metrics }, request } = call;
    const upload = await uploadOf(call);
    const offset = /^\d{1,15}$/.exec(String(request.headers['upload-offset'] ?? ''))?.[0];
    if (offset === undefined) throw new Problem(400, 'no-offset', 'The header upload-offset is missing.', 'Send how many bytes are there already.');
    if (request.headers['content-encoding'] !== undefined) throw new Problem(415, 'encoded', 'Parts are not packed one by one.', 'Pack the whole file with gzip, say so when the upload is begun, and send its bytes.');
    if (upload.sha256 !== null) throw conflict('upload-whole', 'All bytes of this upload are there.', 'Finish it.', { received: upload.size });
    const received = await alone(upload.id, () => artifacts.addPart(upload.id, Number(offset), looked(call, upload, Number(offset)), { maxBytes: upload.size }));
    metrics.uploaded(received - Number(offset));
    return { body: { received, size: upload.size } };
  },
});

/** The first part tells of most files how many triangles there are: what is too large is refused before the rest is sent. */
async function* looked({ service: { runtime: { config } }, request }: Call, { particulars }: typeof uploads.$inferSelect, offset: number): AsyncGenerator<Uint8Array> {
  const see = offset === 0 && particulars.encoding === undefined ? refuseTooMany(config.uploadMaxTriangles) : null;
  for await (const chunk of request as AsyncIterable<Uint8Array>) {
    see?.(chunk);
    yield chunk;
  }
}

export const dropUpload = route({
  method: 'delete', path: '/uploads/:id', summary: 'Gives up an upload.',
  handle: async (call) => {
    const { id } = await uploadOf(call);
    const { records: { db }, artifacts } = call.service.runtime;
    await alone(id, async () => {
      await artifacts.dropParts(id);
      await db.delete(uploads).where(eq(uploads.id, id));
    });
    return {};
  },
});

import { readFileSync } from 'node:fs';
import type { Speaker } from './api-service.js';

const SAMPLES = new URL('../../sample-meshes/', import.meta.url);
export const sampleScan = (name: string): Uint8Array => readFileSync(new URL(name, SAMPLES));
export const sampleOrder = (number: string) => JSON.parse(readFileSync(new URL(`${number}.order.json`, SAMPLES), 'utf8'));

let orders = 0;

/** An order of its own number with one cast that waits for a scan. */
export async function bookIn(say: Speaker, { side = 'left', content = {} as Record<string, unknown>, customerId = undefined as string | undefined } = {}): Promise<{ orderId: string; orderNumber: string; castId: string }> {
  const orderNumber = `T-${process.pid}-${++orders}`;
  const order = await say('POST', '/orders', { content: { ...content, orderNumber }, ...(customerId !== undefined && { customerId }) });
  const cast = await say('POST', `/orders/${order.body.id}/casts`, { side });
  return { orderId: order.body.id, orderNumber, castId: cast.body.id };
}

/** Uploads a scan in one part; what finishing it answers. */
export async function upload(say: Speaker, castId: string, bytes: Uint8Array, fileName = 'cast.stl') {
  const { body: begun } = await say('POST', `/casts/${castId}/uploads`, { fileName, size: bytes.length });
  await say.raw('PATCH', `/uploads/${begun.id}`, bytes, { 'upload-offset': '0' });
  return say('POST', `/uploads/${begun.id}/finish`);
}

/** Asks until it is so, or three minutes have gone by; what was answered last. */
export async function until<T>(ask: () => Promise<T>, holds: (answer: T) => boolean): Promise<T> {
  const end = Date.now() + 180_000;
  for (;;) {
    const answer = await ask();
    if (holds(answer) || Date.now() > end) return answer;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

export const ended = async (say: Speaker, revisionId: string) =>
  (await until(() => say('GET', `/revisions/${revisionId}`), ({ body }) => body.state !== 'waiting')).body;

import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import type { Call } from '../../http/route.js';
import { shownBatch } from './batches.js';

type Steered = RowOf<'batches'>['state'];

async function steer({ service: { runtime, batches }, by, params: { id } }: Call, from: readonly Steered[], to: Steered, act: (draft: ChangeDraft) => Promise<void>) {
  const batch = await runtime.records.change(by, `batch.${to}`, { table: 'batches', id }, async (draft) => {
    const before = await draft.expect('batches', id);
    if (before.state === to) return before;
    if (!from.includes(before.state)) throw conflict('batch-over', `The batch is ${before.state}.`, 'Look at it as it stands now.', { current: shownBatch(before) });
    await act(draft);
    return draft.put('batches', { ...before, state: to });
  });
  batches.wake();
  return { body: shownBatch(batch), version: batch.version };
}

export const pauseBatch = route({
  method: 'post', path: '/batches/:id/pause', summary: 'Begins no more casts of a batch; those that run are ended.',
  handle: (call) => steer(call, ['running'], 'paused', ({ tx }) => call.service.runtime.jobs.pauseLane(tx, call.params.id)),
});

export const resumeBatch = route({
  method: 'post', path: '/batches/:id/resume', summary: 'Goes on with a batch that was paused.',
  handle: (call) => steer(call, ['paused'], 'running', (draft) => call.service.runtime.jobs.resumeLane(draft, call.params.id)),
});

export const cancelBatch = route({
  method: 'post', path: '/batches/:id/cancel', summary: 'Ends a batch; candidates that are made stay to be looked at.',
  handle: (call) => steer(call, ['running', 'paused'], 'cancelled', (draft) => call.service.runtime.jobs.cancelLane(draft, call.params.id)),
});

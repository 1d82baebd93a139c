import { ask } from './ask.js';
import type { Answer } from './ask.js';
import type { Batch, BatchFilter, BatchItem, BatchListed, Reach } from './batch-types.js';
import type { Page } from './page.js';

export const beginTrial = async (content: unknown, castIds: readonly string[]): Promise<BatchListed> => (await ask<BatchListed>('POST', '/rules/trial', { body: { content, castIds } })).body;
export const readBatch = async (id: string): Promise<Batch> => (await ask<Batch>('GET', `/batches/${id}`)).body;
export const readReach = async (filter: BatchFilter, rulesId: string | undefined, signal: AbortSignal): Promise<Reach> => (await ask<Reach>('POST', '/batches/reach', { body: { filter, ...(rulesId !== undefined && { rulesId }) }, signal })).body;
export const beginBatch = async (name: string, rulesId: string, filter: BatchFilter): Promise<BatchListed> => (await ask<BatchListed>('POST', '/batches', { body: { name, rulesId, filter } })).body;
export const steerBatch = (id: string, how: 'pause' | 'resume' | 'cancel' | 'retry'): Promise<Answer<BatchListed>> => ask<BatchListed>('POST', `/batches/${id}/${how}`);

const PAGE = 200;

/** All items of a batch, or those that changed since; page by page, told of as they come. */
export async function readItems(id: string, changedAfter: string | null, tell: (items: readonly BatchItem[]) => void): Promise<void> {
  let after: string | null = '';
  while (after !== null) {
    const query: string = [`limit=${PAGE}`, ...(after === '' ? [] : [`after=${after}`]), ...(changedAfter === null ? [] : [`changedAfter=${changedAfter}`])].join('&');
    const { body }: Answer<Page<BatchItem>> = await ask<Page<BatchItem>>('GET', `/batches/${id}/items?${query}`);
    tell(body.items);
    after = body.next;
  }
}

export interface Taken {
  readonly accepted: readonly string[];
  readonly left: readonly { readonly itemId: string; readonly why: string }[];
}
export interface Limits {
  readonly maxMm: number;
  readonly girthMm: number;
}
export const readWithin = async (id: string, { maxMm, girthMm }: Limits, signal: AbortSignal): Promise<readonly string[]> => (await ask<{ itemIds: string[] }>('GET', `/batches/${id}/within?maxMm=${maxMm}&girthMm=${girthMm}`, { signal })).body.itemIds;
/** `approvedSeen`: of the items, those whose last was shown as approved; one that was approved meanwhile is left. */
export const acceptItems = async (id: string, which: { itemIds: readonly string[]; approvedSeen: readonly string[]; within?: Limits }): Promise<Taken> => (await ask<Taken>('POST', `/batches/${id}/accept`, { body: which })).body;
export const declineItems = async (id: string, itemIds: readonly string[]): Promise<void> => void (await ask('POST', `/batches/${id}/decline`, { body: { itemIds } }));
export const reopenItems = async (id: string, itemIds: readonly string[]): Promise<void> => void (await ask('POST', `/batches/${id}/reopen`, { body: { itemIds } }));

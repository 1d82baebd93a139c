import { ask } from './ask.js';
import type { Answer } from './ask.js';
import type { Page } from './page.js';

export type BatchState = 'running' | 'paused' | 'cancelled' | 'ended';

export interface BatchListed {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly rulesId: string;
  readonly filter: Readonly<Record<string, unknown>>;
  readonly trial: boolean;
  readonly casts: number;
  readonly state: BatchState;
  readonly personId: string | null;
  readonly createdAt: string;
  readonly changedAt: string;
}

export interface BatchCounts {
  readonly asked: number;
  readonly compared: number;
  readonly accepted: number;
  readonly declined: number;
  readonly done: number;
  readonly failed: number;
}

export interface Batch extends BatchListed {
  readonly counts: BatchCounts;
  readonly rulesName: string;
  readonly rulesNumber: number;
  readonly personName: string | null;
}

export interface BatchFilter {
  readonly discipline?: string;
  readonly arrivedFrom?: string;
  readonly arrivedTo?: string;
  readonly state?: string;
  readonly castIds?: readonly string[];
}

export interface Reach {
  readonly casts: number;
  readonly approved: number;
  readonly byThese: number;
  readonly disciplines: readonly { readonly name: string; readonly casts: number }[];
  readonly secondsEach: number | null;
}

export interface GirthChange {
  readonly id: string;
  readonly label: string;
  readonly before: number | null;
  readonly after: number | null;
}

export interface ShownMark {
  readonly id: string;
  readonly kind: string;
  readonly centre: readonly [number, number, number];
  readonly depth: number;
}

export interface Compared {
  readonly maxMm: number;
  readonly rmsMm: number;
  readonly girths: readonly GirthChange[];
  readonly marksCame: readonly ShownMark[];
  readonly marksWent: readonly ShownMark[];
}

export interface BatchItem {
  readonly id: string;
  readonly castId: string;
  readonly revisionId: string | null;
  readonly againstId: string | null;
  readonly comparison: Compared | { readonly problem: string } | null;
  readonly verdict: 'accepted' | 'declined' | null;
  readonly orderId: string | null;
  readonly orderNumber: string | null;
  readonly side: 'left' | 'right' | null;
  readonly state: 'waiting' | 'done' | 'refused' | 'failed' | 'set-aside' | 'cancelled' | null;
  readonly refusal: { readonly code: string; readonly message: string; readonly remedy: string } | null;
  readonly story: readonly { readonly at: string; readonly what: string; readonly text: string }[] | null;
  readonly castState: string | null;
  /** When anything of it changed last. */
  readonly seenAt: string;
  readonly approved: boolean;
  /** The cast has another result by now than the one compared with. */
  readonly overtaken: boolean;
}

export const beginTrial = async (content: unknown, castIds: readonly string[]): Promise<BatchListed> => (await ask<BatchListed>('POST', '/rules/trial', { body: { content, castIds } })).body;
export const listBatches = async (after?: string): Promise<Page<Batch>> => (await ask<Page<Batch>>('GET', `/batches?limit=50${after === undefined ? '' : `&after=${after}`}`)).body;
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
export const acceptItems = async (id: string, which: { itemIds?: readonly string[]; within?: Limits }): Promise<Taken> => (await ask<Taken>('POST', `/batches/${id}/accept`, { body: which })).body;
export const declineItems = async (id: string, itemIds: readonly string[]): Promise<void> => void (await ask('POST', `/batches/${id}/decline`, { body: { itemIds } }));
export const reopenItems = async (id: string, itemIds: readonly string[]): Promise<void> => void (await ask('POST', `/batches/${id}/reopen`, { body: { itemIds } }));

import type { Side } from '@cast-to-last/foot/side';
import { ask } from '../../server/ask.js';
import type { ArrivalDraft, CustomerDraft } from './draft.js';
import { numberOf } from '../../parts/number-of.js';

/** The customer's id, added where they are new; null where none is named. */
export async function customerFor({ which, id, number, name, contact, agreed, consent, retainUntil }: CustomerDraft): Promise<string | null> {
  if (which === 'none') return null;
  if (which === 'known') return id;
  const given = (text: string): string | undefined => (text.trim() === '' ? undefined : text.trim());
  const { body } = await ask<{ id: string }>('POST', '/customers', {
    body: {
      number: given(number), name: given(name), contact: given(contact), retainUntil: given(retainUntil),
      ...(agreed && given(consent) !== undefined && { consent: { at: new Date().toISOString(), text: given(consent) } }),
    },
  });
  return body.id;
}

export async function addOrder(content: unknown, customerId: string | null): Promise<string> {
  return (await ask<{ id: string }>('POST', '/orders', { body: { content, ...(customerId !== null && { customerId }) } })).body.id;
}

/** Books in a cast as it came: when, and whether it has to dry. */
export async function addCast(orderId: string, side: Side, arrival: ArrivalDraft, recastOfId?: string): Promise<void> {
  await ask('POST', `/orders/${orderId}/casts`, { body: { side, ...arrivalOf(arrival), ...(recastOfId !== undefined && { recastOfId }) } });
}

/** When a cast came and how long it has to dry, as the service keeps it. */
export function arrivalOf({ here, damp, hours, how }: ArrivalDraft): { arrivedAt: string | null; drying: { since: string; until: string; how?: string } | null } {
  const now = new Date();
  if (!here) return { arrivedAt: null, drying: null };
  const until = new Date(now.getTime() + (numberOf(hours) ?? 24) * 3_600_000).toISOString();
  return { arrivedAt: now.toISOString(), drying: damp ? { since: now.toISOString(), until, ...(how.trim() !== '' && { how: how.trim() }) } : null };
}

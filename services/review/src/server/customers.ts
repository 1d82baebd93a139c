import type { Order } from '@cast-to-last/pipeline/order';
import { ask } from './ask.js';
import type { Answer } from './ask.js';
import type { Page } from './page.js';
import type { CastState, Side, Verdict } from './results.js';

export interface Customer {
  readonly id: string;
  readonly version: number;
  readonly number: string;
  readonly name: string | null;
  readonly contact: string | null;
  readonly consent: { readonly at: string; readonly text: string } | null;
  /** YYYY-MM-DD */
  readonly retainUntil: string | null;
  readonly erasedAt: string | null;
  readonly createdAt: string;
  readonly changedAt: string;
}

export interface OrderFound {
  readonly id: string;
  readonly number: string;
  readonly customerId: string | null;
  readonly customerNumber: string | null;
  readonly customerName: string | null;
  readonly state: 'open' | 'closed' | 'cancelled';
  readonly content: Order;
  readonly discipline: string | null;
  readonly createdAt: string;
  readonly casts: readonly { readonly id: string; readonly side: Side; readonly state: CastState; readonly verdict: Verdict | null }[];
}

export interface CastFound {
  readonly id: string;
  readonly orderId: string;
  readonly orderNumber: string;
  readonly discipline: string | null;
  readonly customerId: string | null;
  readonly customerNumber: string | null;
  readonly customerName: string | null;
  readonly side: Side;
  readonly state: CastState;
  readonly verdict: Verdict | null;
  readonly arrivedAt: string | null;
  readonly createdAt: string;
  readonly currentRevisionId: string | null;
  readonly approvedRevisionId: string | null;
}

/** One cast in the history of a customer's feet. */
export interface CastOfHistory {
  readonly castId: string;
  readonly orderId: string;
  readonly orderNumber: string;
  readonly discipline: string | null;
  readonly side: Side;
  readonly state: CastState;
  /** YYYY-MM-DD: of the order, else of the arrival. */
  readonly day: string;
  readonly revisionId: string | null;
  readonly approvedRevisionId: string | null;
  readonly rulesName: string | null;
  readonly rulesNumber: number | null;
  readonly verdict: Verdict | null;
  readonly measures: Readonly<Record<string, number>>;
  readonly details: Readonly<Record<string, { readonly label: string; readonly unit: 'mm' | 'deg'; readonly uncertainty: number }>>;
}

const query = (asked: Readonly<Record<string, string>>): string => new URLSearchParams(Object.entries(asked).filter(([, value]) => value !== '')).toString();

export const findOrders = async (asked: Readonly<Record<string, string>>): Promise<Page<OrderFound>> => (await ask<Page<OrderFound>>('GET', `/orders?${query(asked)}`)).body;
export const findCasts = async (asked: Readonly<Record<string, string>>): Promise<Page<CastFound>> => (await ask<Page<CastFound>>('GET', `/casts?${query(asked)}`)).body;
export const readCustomer = (id: string): Promise<Answer<Customer>> => ask<Customer>('GET', `/customers/${id}`);
export const changeCustomer = (id: string, etag: string, changed: Partial<Pick<Customer, 'number' | 'name' | 'contact' | 'consent' | 'retainUntil'>>): Promise<Answer<Customer>> =>
  ask<Customer>('PATCH', `/customers/${id}`, { body: changed, ifMatch: etag });
export const readHistory = async (id: string): Promise<readonly CastOfHistory[]> => (await ask<{ items: CastOfHistory[] }>('GET', `/customers/${id}/history`)).body.items;
export const eraseCustomer = async (id: string, confirm: string): Promise<void> => void (await ask('POST', `/customers/${id}/erase`, { body: { confirm } }));

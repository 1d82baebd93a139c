import { effect, signal } from '@preact/signals';
import type { Signal } from '@preact/signals';
import { forgetAtSignOut } from '../../parts/forget.js';
import { session } from '../../server/session.js';
import type { OrderValues } from './fields.js';

const CONSENT_TEXT = 'I agree that the workshop keeps scans and measures of my feet to make and repair my footwear, until the date that is named or until I take this back.';

export interface CustomerDraft {
  /** Whether one is chosen, is to be added, or none is named. */
  readonly which: 'known' | 'new' | 'none';
  /** Of a known one. */
  readonly id: string;
  readonly number: string;
  readonly name: string;
  readonly contact: string;
  readonly agreed: boolean;
  readonly consent: string;
  readonly retainUntil: string;
}

export interface ArrivalDraft {
  readonly here: boolean;
  readonly damp: boolean;
  readonly hours: string;
  readonly how: string;
}

export interface BookingDraft {
  readonly personId: string;
  readonly values: OrderValues;
  readonly rest: Readonly<Record<string, unknown>>;
  readonly customer: CustomerDraft;
  readonly arrival: ArrivalDraft;
}

const today = (): string => {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
};

export const NO_CUSTOMER: CustomerDraft = { which: 'none', id: '', number: '', name: '', contact: '', agreed: false, consent: CONSENT_TEXT, retainUntil: '' };

export const emptyDraft = (): BookingDraft => ({
  personId: session.value?.person.id ?? '', values: { sides: 'both', date: today() }, rest: {}, customer: NO_CUSTOMER, arrival: { here: true, damp: false, hours: '24', how: 'in the air, standing free' },
});

/** In this tab alone, so that a reload loses nothing and nobody else finds it. */
const KEPT = 'booking';

function kept(): BookingDraft | null {
  try {
    return JSON.parse(sessionStorage.getItem(KEPT) ?? 'null') as BookingDraft | null;
  } catch {
    return null;
  }
}

/** What is typed of an order that is not booked in yet; null where nothing is. */
export const booking: Signal<BookingDraft | null> = signal(kept());

effect(() => {
  if (booking.value === null) sessionStorage.removeItem(KEPT);
  else sessionStorage.setItem(KEPT, JSON.stringify(booking.value));
});

forgetAtSignOut(() => {
  booking.value = null;
});

/** The draft of the one who is signed in; what another person left is not shown. */
export function ownDraft(): BookingDraft {
  const draft = booking.value;
  return draft !== null && draft.personId === session.value?.person.id ? draft : emptyDraft();
}

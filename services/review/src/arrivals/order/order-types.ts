import type { Side } from '@cast-to-last/foot/side';
import type { Order } from '@cast-to-last/pipeline/order';
import type { Drying } from '../../server/arrivals.js';

export interface Photo {
  readonly name: string;
  readonly sha256: string;
  readonly size: number;
  readonly type: string;
}

/** A cast as its record stands. */
export interface KeptCast {
  readonly id: string;
  readonly version: number;
  readonly orderId: string;
  readonly side: Side;
  readonly state: string;
  readonly arrivedAt: string | null;
  readonly drying: Drying | null;
  readonly photos: readonly Photo[];
  readonly note: string | null;
}

export interface OrderWithCasts {
  readonly id: string;
  readonly number: string;
  readonly state: 'open' | 'closed' | 'cancelled';
  readonly content: Order;
  readonly casts: readonly KeptCast[];
}

export interface StoryLine {
  readonly at: string;
  readonly what: string;
  readonly stage: string | null;
  readonly text: string;
}

/** What GET /revisions/:id tells, as far as arrivals need it. */
export interface Revision {
  readonly id: string;
  readonly castId: string;
  readonly scanId: string;
  readonly number: number;
  readonly state: 'waiting' | 'done' | 'refused' | 'failed' | 'set-aside' | 'cancelled';
  readonly fingerprint: string | null;
  readonly endedAt: string | null;
  readonly files: readonly { readonly name: string; readonly size: number }[];
  readonly refusal: { readonly code: string; readonly message: string; readonly remedy: string } | null;
  readonly story: readonly StoryLine[];
  readonly job: { readonly id: string; readonly state: string } | null;
}


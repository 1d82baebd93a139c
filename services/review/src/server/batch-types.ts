/** What the service tells of batches. */

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

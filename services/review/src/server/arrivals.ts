import type { Side } from '@cast-to-last/foot/side';
import type { CastState, Verdict } from './results.js';

/** What a cast waits for, in the order of a cast's way. */
export const WAITS = ['post', 'drying', 'scan', 'work', 'trouble', 'maker', 'sent-back', 'recast', 'replaced', 'done'] as const;
export type WaitsFor = (typeof WAITS)[number];
export type WaitCounts = Readonly<Record<WaitsFor, number>>;

export interface Drying {
  readonly since?: string;
  readonly until?: string;
  readonly how?: string;
}

export interface ArrivedCast {
  readonly id: string;
  readonly side: Side;
  readonly state: CastState;
  readonly arrivedAt: string | null;
  readonly drying: Drying | null;
  readonly recastOfId: string | null;
  readonly waits: WaitsFor;
  readonly since: string;
  readonly currentRevisionId: string | null;
  readonly newestRevisionId: string | null;
  readonly verdict: Verdict | null;
  /** Marks that ask for a decision. */
  readonly asks: number | null;
  readonly job: { readonly id: string; readonly state: 'waiting' | 'running'; readonly stage: string | null; readonly done: number | null; readonly of: number | null } | null;
}

/** A row of GET /arrivals. */
export interface ArrivedOrder {
  readonly id: string;
  readonly number: string;
  readonly state: 'open' | 'closed' | 'cancelled';
  readonly discipline: string | null;
  readonly createdAt: string;
  readonly sides: readonly Side[];
  readonly customer: { readonly id: string; readonly number: string; readonly name: string | null } | null;
  readonly casts: readonly ArrivedCast[];
}

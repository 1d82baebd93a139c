import type { Side } from '@cast-to-last/foot/side';

export interface JobStory {
  readonly at: string;
  readonly what: string;
  readonly worker: string | null;
  readonly stage: string | null;
  readonly text: string;
}

/** A row of GET /jobs. */
export interface Job {
  readonly id: string;
  readonly revisionId: string;
  readonly castId: string;
  readonly orderId: string;
  readonly orderNumber: string;
  readonly side: Side;
  readonly batchId: string | null;
  readonly batchName: string | null;
  readonly state: 'waiting' | 'running' | 'done' | 'refused' | 'failed' | 'set-aside' | 'cancelled';
  readonly priority: number;
  readonly attempts: number;
  readonly stage: string | null;
  readonly done: number | null;
  readonly of: number | null;
  readonly cancelAsked: boolean;
  readonly refusal: { readonly code: string; readonly message: string; readonly remedy: string } | null;
  readonly story: readonly JobStory[];
  readonly createdAt: string;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
}

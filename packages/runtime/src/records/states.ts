/** The states that rows go through. */

export const ORDER_STATES = ['open', 'closed', 'cancelled'] as const;

export const CAST_STATES = ['awaiting-scan', 'in-work', 'to-review', 'approved', 'sent-back', 'recast'] as const;
export type CastState = (typeof CAST_STATES)[number];

export const REVISION_STATES = ['waiting', 'done', 'refused', 'failed', 'set-aside', 'cancelled'] as const;
export type RevisionState = (typeof REVISION_STATES)[number];

export const JOB_STATES = ['waiting', 'running', 'done', 'refused', 'failed', 'set-aside', 'cancelled'] as const;
export type JobState = (typeof JOB_STATES)[number];

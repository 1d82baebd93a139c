import type { Finding } from '../records.js';

const RANK: Readonly<Record<Finding['severity'], number>> = { recast: 0, care: 1, note: 2 };

/** Order of findings: worst first. */
export const worstFirst = (a: Pick<Finding, 'severity'>, b: Pick<Finding, 'severity'>): number => RANK[a.severity] - RANK[b.severity];

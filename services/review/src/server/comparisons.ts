import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { ask } from './ask.js';

export interface Comparison {
  readonly id: string;
  readonly first: { readonly revisionId: string };
  readonly second: { readonly revisionId: string };
  readonly of: 'cast' | 'last';
  readonly report: ComparisonReport;
}

/** Two results laid on each other; the same two are compared once. It takes some seconds. */
export const compareResults = async (firstId: string, secondId: string, of: 'cast' | 'last'): Promise<Comparison> =>
  (await ask<Comparison>('POST', '/comparisons', { body: { first: { revisionId: firstId }, second: { revisionId: secondId }, of } })).body;

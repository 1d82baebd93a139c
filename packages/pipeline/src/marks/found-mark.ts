import type { Mark } from '../records.js';

/** A mark before the decision on it. */
export type FoundMark = Omit<Mark, 'id' | 'decision' | 'why'>;

/** Whether a mark is a dent or a bump, and no line. */
export const isDot = ({ kind }: Pick<FoundMark, 'kind'>): boolean => kind === 'dent' || kind === 'bump';

import type { Mark } from '../records.js';

/** A mark before the decision on it. */
export type FoundMark = Omit<Mark, 'id' | 'decision' | 'why'>;

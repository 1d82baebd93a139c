/** The id of the ith row of a kind, the same in every run. */
export const rowId = (kind: number, i: number): string => `${String(kind).padStart(8, '0')}-0000-4000-8000-${String(i).padStart(12, '0')}`;

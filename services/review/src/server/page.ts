/** A part of a list; `next` for `after` of the part that follows, null where there is none. */
export interface Page<T> {
  readonly items: readonly T[];
  readonly next: string | null;
}

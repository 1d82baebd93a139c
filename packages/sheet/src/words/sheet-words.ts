import type { ENGLISH } from './english.js';

type Widened<T> = T extends string
  ? string
  : T extends (...given: infer Given) => string
    ? (...given: Given) => string
    : { readonly [Key in keyof T]: Widened<T[Key]> };

/** A catalogue of the sheet's words: a language that lacks one does not compile. */
export type SheetWords = Widened<typeof ENGLISH>;

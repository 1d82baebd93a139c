import type { Json } from '../lines.js';

/** What is being written and not yet saved. Kept by the browser for this tab, so that a reload loses nothing. */
export interface Draft {
  readonly name: string;
  readonly content: Json;
  readonly note: string;
  /** Where it came from, where that was a file. */
  readonly file?: string;
}

const keyOf = (baseId: string): string => `rules-draft ${baseId}`;

export function keptDraft(baseId: string): Draft | null {
  const text = sessionStorage.getItem(keyOf(baseId));
  return text === null ? null : (JSON.parse(text) as Draft);
}

export const keepDraft = (baseId: string, draft: Draft): void => sessionStorage.setItem(keyOf(baseId), JSON.stringify(draft));

export const dropDraft = (baseId: string): void => sessionStorage.removeItem(keyOf(baseId));

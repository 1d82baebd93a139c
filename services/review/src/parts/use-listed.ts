import { useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../server/ask.js';
import type { Page } from '../server/page.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

export interface Listed<T> {
  /** Null until the first answer. */
  readonly items: readonly T[] | null;
  readonly more: boolean;
  readonly busy: boolean;
  readonly problem: ServerProblem | null;
  showMore(): Promise<void>;
  /** Reads anew as much as is shown. */
  again(): Promise<void>;
}

const AT_ONCE = 50;
const MOST_AT_ONCE = 200;

/** A list of the service, shown part by part; begun anew where what is asked for changes. */
export function useListed<T extends { readonly id: string }>(path: string, query: Readonly<Record<string, string>>): Listed<T> {
  const key = `${path}?${new URLSearchParams(query)}`;
  const [state, setState] = useState<{ key: string; items: readonly T[] | null; next: string | null; problem: ServerProblem | null }>({ key: '', items: null, next: null, problem: null });
  const [busy, setBusy] = useState(false);
  const turn = useRef(0);
  const shown = useRef(AT_ONCE);

  const read = async (from: readonly T[], after: string | null, upTo: number): Promise<void> => {
    const mine = ++turn.current;
    setBusy(true);
    try {
      let [items, next, first] = [from, after, true];
      while (first || (next !== null && items.length < upTo)) {
        first = false;
        const asked = new URLSearchParams({ ...query, limit: String(Math.max(1, Math.min(MOST_AT_ONCE, upTo - items.length))), ...(next !== null && { after: next }) });
        const { body } = await ask<Page<T>>('GET', `${path}?${asked}`);
        if (mine !== turn.current) return;
        const known = new Set(items.map(({ id }) => id));
        items = [...items, ...body.items.filter(({ id }) => !known.has(id))];
        next = body.next;
      }
      setState({ key, items, next, problem: null });
    } catch (error) {
      if (mine === turn.current) setState((before) => ({ ...before, key, items: before.key === key ? before.items : [], problem: problemOf(error) }));
    } finally {
      if (mine === turn.current) setBusy(false);
    }
  };
  useEffect(() => {
    shown.current = AT_ONCE;
    void read([], null, AT_ONCE);
    return () => void turn.current++;
  }, [key]);

  const here = state.key === key;
  return {
    items: state.items, more: here && state.next !== null, busy, problem: here ? state.problem : null,
    showMore: () => {
      shown.current = (state.items?.length ?? 0) + AT_ONCE;
      return read(state.items ?? [], state.next, shown.current);
    },
    again: () => read([], null, shown.current),
  };
}

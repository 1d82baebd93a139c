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

const MOST_AT_ONCE = 200;

/** A list of the service, shown part by part: `first` items, then `step` more at a time; begun anew where what is asked for changes. */
export function useListed<T extends { readonly id: string }>(path: string, query: Readonly<Record<string, string>>, { first = 50, step = 50 } = {}): Listed<T> {
  const key = `${path}?${new URLSearchParams(query)}`;
  const [state, setState] = useState<{ key: string; items: readonly T[] | null; next: string | null; problem: ServerProblem | null }>({ key: '', items: null, next: null, problem: null });
  const [busy, setBusy] = useState(false);
  const turn = useRef(0);
  const shown = useRef(first);

  const read = async (from: readonly T[], after: string | null, upTo: number): Promise<void> => {
    const mine = ++turn.current;
    setBusy(true);
    try {
      let [items, next, begun] = [from, after, false];
      while (!begun || (next !== null && items.length < upTo)) {
        begun = true;
        const asked = new URLSearchParams({ ...query, limit: String(Math.max(1, Math.min(MOST_AT_ONCE, upTo - items.length))), ...(next !== null && { after: next }) });
        const { body } = await ask<Page<T>>('GET', `${path}?${asked}`);
        if (mine !== turn.current) return;
        const known = new Set(items.map(({ id }) => id));
        items = [...items, ...body.items.filter(({ id }) => !known.has(id))];
        next = body.next;
      }
      setState({ key, items, next, problem: null });
    } catch (error) {
      if (mine === turn.current) setState((before) => ({ ...before, key, items: before.key === key ? before.items : [], next: before.key === key ? before.next : null, problem: problemOf(error) }));
    } finally {
      if (mine === turn.current) setBusy(false);
    }
  };
  useEffect(() => {
    shown.current = first;
    void read([], null, first);
    return () => void turn.current++;
  }, [key]);

  const here = state.key === key;
  return {
    items: state.items, more: here && state.next !== null, busy, problem: here ? state.problem : null,
    showMore: () => {
      shown.current = (state.items?.length ?? 0) + step;
      return read(state.items ?? [], state.next, shown.current);
    },
    again: () => read([], null, shown.current),
  };
}

import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

export interface AskedFor<T> {
  /** What was answered last; it stays while it is asked for again. */
  readonly body: T | null;
  /** For If-Match of a change. */
  readonly etag: string | null;
  readonly problem: ServerProblem | null;
  /** Asks again; settles when that was answered. */
  again(): Promise<void>;
}

/** What the service answers to a GET; asked anew where the path changes, nothing while it is null. */
export function useAsked<T>(path: string | null): AskedFor<T> {
  const [state, setState] = useState<{ path: string | null; body: T | null; etag: string | null; problem: ServerProblem | null }>({ path: null, body: null, etag: null, problem: null });
  const turn = useRef(0);
  const again = useCallback(async () => {
    if (path === null) return;
    const mine = ++turn.current;
    try {
      const { body, etag } = await ask<T>('GET', path);
      if (mine === turn.current) setState({ path, body, etag, problem: null });
    } catch (error) {
      if (mine === turn.current) setState((before) => ({ ...(before.path === path ? before : { body: null, etag: null }), path, problem: problemOf(error) }));
    }
  }, [path]);
  useEffect(() => {
    void again();
    return () => void turn.current++;
  }, [again]);
  return { ...(state.path === path ? state : { body: null, etag: null, problem: null }), again };
}

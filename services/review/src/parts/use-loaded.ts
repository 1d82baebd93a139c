import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

export interface Loaded<T> {
  /** What was read last; undefined before the first answer. */
  readonly value: T | undefined;
  readonly problem: ServerProblem | null;
  /** Reads again; what is there stays until the answer comes. */
  readonly again: () => void;
  readonly set: (value: T) => void;
}

/** What is read from the service, again whenever `keys` change. An answer that comes too late is dropped. */
export function useLoaded<T>(read: () => Promise<T>, keys: readonly unknown[]): Loaded<T> {
  const [value, set] = useState<T | undefined>(undefined);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const turn = useRef(0);
  const start = (): void => {
    const mine = ++turn.current;
    read().then(
      (answer) => {
        if (mine !== turn.current) return;
        set(() => answer);
        setProblem(null);
      },
      (error: unknown) => mine === turn.current && setProblem(problemOf(error)),
    );
  };
  const latest = useRef(start);
  latest.current = start;
  useEffect(() => {
    set(undefined);
    setProblem(null);
    start();
    return () => void turn.current++;
  }, keys);
  return { value, problem, again: useCallback(() => latest.current(), []), set: useCallback((given: T) => set(() => given), []) };
}

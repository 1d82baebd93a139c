import { useEffect, useRef } from 'preact/hooks';
import { listen } from '../server/events.js';
import type { BatchTold, CastTold, JobTold } from '../server/events.js';

export interface News {
  readonly job?: (told: JobTold) => void;
  readonly cast?: (told: CastTold) => void;
  readonly batch?: (told: BatchTold) => void;
  /** News may have been missed: read all anew. */
  readonly missed?: () => void;
}

/** Hears what the service tells while the part is on the page. */
export function useNews(news: News): void {
  const now = useRef(news);
  now.current = news;
  useEffect(() => {
    const ends = [
      listen('job', (told) => now.current.job?.(told), () => now.current.missed?.()),
      listen('cast', (told) => now.current.cast?.(told)),
      listen('batch', (told) => now.current.batch?.(told)),
    ];
    return () => {
      for (const end of ends) end();
    };
  }, []);
}

/** Runs `run` once things have been quiet for `quietMs`, but at least every four times that. */
export function useSoon(run: () => void, quietMs = 250): () => void {
  const state = useRef<{ timer: ReturnType<typeof setTimeout> | undefined; since: number }>({ timer: undefined, since: 0 });
  const now = useRef(run);
  now.current = run;
  useEffect(() => () => clearTimeout(state.current.timer), []);
  return () => {
    const { current } = state;
    if (current.timer === undefined) current.since = Date.now();
    clearTimeout(current.timer);
    const wait = Math.max(0, Math.min(quietMs, current.since + 4 * quietMs - Date.now()));
    current.timer = setTimeout(() => {
      current.timer = undefined;
      now.current();
    }, wait);
  };
}

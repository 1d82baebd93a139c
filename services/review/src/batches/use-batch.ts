import { useEffect, useRef, useState } from 'preact/hooks';
import { readBatch, readItems } from '../server/batches.js';
import type { Batch, BatchItem } from '../server/batch-types.js';
import { listen } from '../server/events.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';

export interface LiveBatch {
  readonly batch: Batch | null;
  readonly items: ReadonlyMap<string, BatchItem>;
  /** Whether every item was read once. */
  readonly whole: boolean;
  /** The stage that each cast is in that is being made. */
  readonly stages: ReadonlyMap<string, string>;
  readonly problem: ServerProblem | null;
  /** Reads what changed. */
  readonly refresh: () => void;
}

/** News come in bursts; what changed is read at most so often. */
const QUIET_MS = 400;
/** Changes are told by when they began: one that ended later may bear an earlier instant. */
const OVERLAP_MS = 10_000;

/** One batch with all its items, kept as it is now. */
export function useBatch(id: string): LiveBatch {
  const [batch, setBatch] = useState<Batch | null>(null);
  const [items, setItems] = useState<ReadonlyMap<string, BatchItem>>(new Map());
  const [whole, setWhole] = useState(false);
  const [stages, setStages] = useState<ReadonlyMap<string, string>>(new Map());
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const own = useRef({ open: true, reading: false, again: false, seenAt: null as string | null, timer: undefined as ReturnType<typeof setTimeout> | undefined });

  const read = async (): Promise<void> => {
    const state = own.current;
    if (state.reading) {
      state.again = true;
      return;
    }
    state.reading = true;
    try {
      const since = state.seenAt === null ? null : new Date(Date.parse(state.seenAt) - OVERLAP_MS).toISOString();
      setBatch(await readBatch(id));
      await readItems(id, since, (page) => {
        if (!state.open || page.length === 0) return;
        for (const { seenAt } of page) if (state.seenAt === null || seenAt > state.seenAt) state.seenAt = seenAt;
        setItems((before) => new Map([...before, ...page.map((item) => [item.id, item] as const)]));
      });
      setWhole(true);
      setProblem(null);
    } catch (error) {
      // A list that broke off has to be read from its beginning.
      if (!whole) state.seenAt = null;
      setProblem(problemOf(error));
    } finally {
      state.reading = false;
      if (state.again && state.open) {
        state.again = false;
        soon();
      }
    }
  };
  const soon = (): void => {
    own.current.timer ??= setTimeout(() => {
      own.current.timer = undefined;
      void read();
    }, QUIET_MS);
  };

  useEffect(() => {
    const state = own.current;
    state.open = true;
    void read();
    const all = (): void => {
      state.seenAt = null;
      soon();
    };
    const ends = [
      listen('batch', ({ batchId }) => batchId === id && soon(), all),
      listen('cast', soon),
      listen('job', ({ castId, state: of, stage }) => {
        setStages((before) => {
          const after = new Map(before);
          if (of === 'running' && stage !== null) after.set(castId, stage);
          else after.delete(castId);
          return after;
        });
        if (of !== 'running') soon();
      }),
    ];
    return () => {
      state.open = false;
      clearTimeout(state.timer);
      state.timer = undefined;
      for (const end of ends) end();
    };
  }, [id]);
  return { batch, items, whole, stages, problem, refresh: soon };
}

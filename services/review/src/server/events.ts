import { signal } from '@preact/signals';

export interface JobTold {
  readonly jobId: string;
  readonly revisionId: string;
  readonly castId: string;
  readonly state: 'waiting' | 'running' | 'done' | 'refused' | 'failed' | 'set-aside' | 'cancelled';
  readonly stage: string | null;
  readonly done: number | null;
  readonly of: number | null;
  /** Names of files that can be looked at before the result is whole. */
  readonly preview: readonly string[];
}
export interface CastTold {
  readonly castId: string;
  readonly orderId: string;
  readonly state: string;
  readonly version: number;
  readonly currentRevisionId: string | null;
}
export interface BatchTold {
  readonly batchId: string;
  readonly state: string;
  readonly version: number;
}
interface Told {
  job: JobTold;
  cast: CastTold;
  batch: BatchTold;
}

/** Whether news come in; false while the connection is lost and sought again. */
export const connected = signal(true);

const listeners = { job: new Set<(told: JobTold) => void>(), cast: new Set<(told: CastTold) => void>(), batch: new Set<(told: BatchTold) => void>() };
const reconnected = new Set<() => void>();
let source: EventSource | null = null;

/** Calls `hear` with what changes; `again` where news may have been missed and all has to be read anew. Gives how to end that. */
export function listen<Event extends keyof Told>(event: Event, hear: (told: Told[Event]) => void, again?: () => void): () => void {
  const set = listeners[event] as Set<(told: Told[Event]) => void>;
  set.add(hear);
  if (again !== undefined) reconnected.add(again);
  open();
  return () => {
    set.delete(hear);
    if (again !== undefined) reconnected.delete(again);
  };
}

function open(): void {
  if (source !== null) return;
  source = new EventSource('/api/v1/events');
  source.onopen = () => {
    if (!connected.value) for (const again of reconnected) again();
    connected.value = true;
  };
  source.onerror = () => {
    connected.value = false;
    // A browser gives up for good on an answer that is no stream, as while nobody is signed in.
    if (source?.readyState === EventSource.CLOSED) {
      source = null;
      setTimeout(open, 3000);
    }
  };
  for (const event of ['job', 'cast', 'batch'] as const) {
    source.addEventListener(event, ({ data }: MessageEvent<string>) => {
      const told = JSON.parse(data) as never;
      for (const hear of listeners[event]) hear(told);
    });
  }
}

// A device that leaves the network does not notice it on a stream that is open.
addEventListener('offline', () => {
  connected.value = false;
});
addEventListener('online', () => {
  if (source === null) return;
  source.close();
  source = null;
  open();
});

import type { CallName, Calls, Reply, Request } from './calls.js';

/** The thread that holds the meshes of what stands on the bench. */
export interface GeometryThread {
  ask<Name extends CallName>(call: Name, asked: Parameters<Calls[Name]>[0], transfer?: Transferable[]): Promise<ReturnType<Calls[Name]>>;
  close(): void;
}

export function openGeometryThread(): GeometryThread {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  const waiting = new Map<number, { resolve: (answer: never) => void; reject: (error: Error) => void }>();
  let next = 1;
  worker.onmessage = ({ data }: MessageEvent<Reply>) => {
    const asker = waiting.get(data.id);
    waiting.delete(data.id);
    if ('fault' in data) asker?.reject(new Error(data.fault));
    else asker?.resolve(data.answer as never);
  };
  worker.onerror = (event) => {
    for (const { reject } of waiting.values()) reject(new Error(event.message || 'The thread that holds the meshes ended.'));
    waiting.clear();
  };
  return {
    ask: (call, asked, transfer = []) => new Promise((resolve, reject) => {
      const id = next++;
      waiting.set(id, { resolve, reject });
      worker.postMessage({ id, call, asked } satisfies Request, transfer);
    }),
    close: () => worker.terminate(),
  };
}

import { runRetention } from '@cast-to-last/runtime/records/run-retention';
import type { Runtime } from '@cast-to-last/runtime/runtime';

const DAY_MS = 24 * 3_600_000;

/** Erases customers past their retention date soon after the start and every day. */
export function keepRetention({ records, artifacts, blobs, log }: Pick<Runtime, 'records' | 'artifacts' | 'blobs' | 'log'>): { close(): void } {
  const run = (): void => {
    runRetention({ records, artifacts, blobs }, new Date().toISOString().slice(0, 10)).then(
      ({ erased, left }) => {
        // Numbers of customers stay out of the log.
        if (erased.length + left.length > 0) log.info({ erased: erased.length, left: left.length }, 'customers past their retention date were erased; those with an open order are left');
      },
      (error: unknown) => log.error({ err: error }, 'the retention run failed; the next one is in a day'),
    );
  };
  const soon = setTimeout(run, 60_000);
  const daily = setInterval(run, DAY_MS);
  soon.unref();
  daily.unref();
  return {
    close: () => {
      clearTimeout(soon);
      clearInterval(daily);
    },
  };
}

import { Counter, Gauge, Histogram, Registry, collectDefaultMetrics } from 'prom-client';
import type { Jobs } from '@cast-to-last/runtime/jobs/jobs';

export interface Metrics {
  readonly registry: Registry;
  answered(method: string, route: string, status: number, seconds: number): void;
  streams(change: 1 | -1): void;
  uploaded(bytes: number): void;
}

/** Figures for Prometheus. Labels are of few values: the pattern of a route, never an address. */
export function openMetrics(jobs: Jobs): Metrics {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const requests = new Histogram({
    name: 'http_request_duration_seconds', help: 'Time from a request to its answer.', labelNames: ['method', 'route', 'status'], registers,
    buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 5],
  });
  const open = new Gauge({ name: 'event_streams', help: 'Streams of events that are open.', registers });
  const bytes = new Counter({ name: 'upload_bytes_total', help: 'Bytes of scans received.', registers });
  const states: Gauge = new Gauge({
    name: 'jobs', help: 'Jobs by state.', labelNames: ['state'], registers,
    collect: async () => {
      for (const [state, n] of Object.entries(await jobs.counts())) states.set({ state }, n);
    },
  });
  return {
    registry,
    answered: (method, route, status, seconds) => requests.observe({ method, route, status }, seconds),
    streams: (change) => open.inc(change),
    uploaded: (n) => bytes.inc(n),
  };
}

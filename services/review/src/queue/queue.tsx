import { useState } from 'preact/hooks';
import { ProblemBox } from '../parts/problem-box.js';
import { useAsked } from '../parts/use-asked.js';
import { useNews, useSoon } from '../parts/use-news.js';
import type { JobTold } from '../server/events.js';
import type { Job } from '../server/jobs.js';
import type { Page } from '../server/page.js';
import { useListed } from '../parts/use-listed.js';
import { JobRow } from './job-row.js';
import './queue.css';

const AT_ONCE = 200;

/** The work on casts: what runs, what waits and in which order, and what ended without a result. */
export function Queue() {
  const running = useAsked<Page<Job>>(`/jobs?state=running&limit=${AT_ONCE}`);
  const waiting = useAsked<Page<Job>>(`/jobs?state=waiting&limit=${AT_ONCE}`);
  const stopped = useListed<Job>('/jobs', { state: 'failed,set-aside,refused' });
  const [told, setTold] = useState<ReadonlyMap<string, JobTold>>(new Map());
  const again = async (): Promise<void> => void (await Promise.all([running.again(), waiting.again(), stopped.again()]));
  const soon = useSoon(() => void again(), 300);
  useNews({
    missed: soon, cast: soon,
    job: (job) => {
      const before = told.get(job.jobId);
      setTold((all) => new Map(all).set(job.jobId, job));
      // How far it is needs no new list; that it began or ended does.
      if (before?.state !== job.state) soon();
    },
  });
  // The service lists newest first; the next in line is the oldest of the most urgent.
  const line = (waiting.body?.items ?? []).toSorted((a, b) => a.priority - b.priority || (a.createdAt < b.createdAt ? -1 : 1));
  const people = line.filter(({ batchId }) => batchId === null);
  const batches = new Map<string, Job[]>();
  for (const job of line) if (job.batchId !== null) batches.set(job.batchId, [...(batches.get(job.batchId) ?? []), job]);
  const rows = (jobs: readonly Job[]) => jobs.map((job, i) => <JobRow key={job.id} job={job} told={told.get(job.id) ?? null} place={job.state === 'waiting' ? i + 1 : null} again={again} />);
  return (
    <main class="queue">
      <h1>Queue</h1>
      <ProblemBox problem={running.problem ?? waiting.problem ?? stopped.problem} />
      <section aria-labelledby="running">
        <h2 id="running">Running</h2>
        {running.body?.items.length === 0 && <p class="quiet">Nothing runs. {line.length === 0 ? 'A scan that is uploaded begins by itself.' : 'What waits begins within moments; if it does not, no worker is running.'}</p>}
        <ul class="job-lines">{rows(running.body?.items ?? [])}</ul>
      </section>
      <section aria-labelledby="waiting">
        <h2 id="waiting">Waiting, in order</h2>
        {waiting.body !== null && people.length === 0 && <p class="quiet">Nobody's cast waits for its turn.</p>}
        <ul class="job-lines">{rows(people)}</ul>
        {[...batches].map(([id, jobs]) => (
          <details key={id} class="board batch-lane">
            <summary>Batch <a href={`/batches/${id}`}>{jobs[0].batchName ?? 'without a name'}</a>: {jobs.length}{waiting.body?.next === null ? '' : ' or more'} wait; casts that people wait for go first</summary>
            <ul class="job-lines">{rows(jobs)}</ul>
          </details>
        ))}
        {waiting.body?.next != null && <p class="quiet">More than {AT_ONCE} wait; the newest are shown.</p>}
      </section>
      <section aria-labelledby="stopped">
        <h2 id="stopped">Ended without a result</h2>
        {stopped.items?.length === 0 && <p class="quiet">Nothing failed, nothing was refused.</p>}
        <ul class="job-lines">{rows(stopped.items ?? [])}</ul>
        {stopped.more && <button type="button" class="push" disabled={stopped.busy} onClick={() => void stopped.showMore()}>Show earlier ones</button>}
      </section>
    </main>
  );
}

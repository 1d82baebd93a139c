import { eq } from 'drizzle-orm';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { Work } from '../jobs/runner.js';
import type { Records } from '../records/records.js';
import { casts, decisions, orders, revisions, ruleSets, scans } from '../records/schema.js';
import { scannerWarningsOf } from './scanner-warnings-of.js';
import type { CastTask } from './cast-task.js';
import type { CastThreads } from './cast-threads.js';

export interface CastWorkOptions {
  readonly records: Records;
  readonly threads: CastThreads;
}

/** What a runner does for a job: makes the revision that it names. */
export function castWork({ records, threads }: CastWorkOptions): Work {
  return async (job, control) => {
    const task = await taskOf(records, job.subjectId);
    // Nothing to make: the customer was erased meanwhile.
    return task === null ? null : threads.run(task, control);
  };
}

async function taskOf({ db }: Records, revisionId: string): Promise<CastTask | null> {
  const [row] = await db
    .select({ revision: revisions, scan: scans, cast: casts, order: orders, rules: ruleSets, decided: decisions })
    .from(revisions)
    .innerJoin(scans, eq(scans.id, revisions.scanId)).innerJoin(casts, eq(casts.id, revisions.castId)).innerJoin(orders, eq(orders.id, casts.orderId))
    .innerJoin(ruleSets, eq(ruleSets.id, revisions.ruleSetId)).leftJoin(decisions, eq(decisions.id, revisions.decisionsId))
    .where(eq(revisions.id, revisionId));
  if (row === undefined) return null;
  const { revision, scan, cast, rules, decided } = row;
  // What was stored by an older version of the program may lack what has a default by now.
  const order = parseOrder(row.order.content);
  const date = order.date ?? revision.createdAt.slice(0, 10);
  const bench = parseRules(rules.content);
  return {
    scanSha256: scan.sha256, fileName: scan.fileName, side: cast.side, kind: scan.kind, unit: scan.unit, wallMm: scan.wallMm ?? undefined,
    sideOverride: scan.sideOverride, order, rules: bench, decisions: decided === null ? NO_DECISIONS : parseDecisions(decided.content),
    date, warnings: await scannerWarningsOf(db, scan.scannerId, date, bench.scanner),
  };
}

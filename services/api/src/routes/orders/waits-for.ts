import { sql } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import { casts } from '@cast-to-last/runtime/records/schema';

/**
 * What a cast waits for. `post`: for the customer to send it; `drying`, `scan`; `work`: it is being made into a last;
 * `trouble`: its newest scan or result stopped and someone has to look; `maker`: for the maker's decision; `sent-back`: for
 * what the maker asked for; `recast`: for a new cast by the customer; `replaced`: that one is there; `done`: approved.
 */
export const WAITS = ['post', 'drying', 'scan', 'work', 'trouble', 'maker', 'sent-back', 'recast', 'replaced', 'done'] as const;
export type WaitsFor = (typeof WAITS)[number];

/** What a person asked for last, batches apart. */
const newest = (column: 'id' | 'state' | 'ended_at' | 'created_at'): SQL => sql`(select r.${sql.identifier(column)} from revisions r where r.cast_id = ${casts.id} and r.origin = 'person' order by r.number desc limit 1)`;

/** As an expression on the row of `casts`; `now` is an ISO instant. */
export const waitsFor = (now: string): SQL<WaitsFor> => sql<WaitsFor>`case ${casts.state}
  when 'approved' then 'done'
  when 'sent-back' then 'sent-back'
  when 'in-work' then 'work'
  when 'recast' then case when exists (select 1 from casts n where n.recast_of_id = ${casts.id}) then 'replaced' else 'recast' end
  when 'to-review' then case when ${newest('state')} in ('refused', 'failed', 'set-aside') then 'trouble' else 'maker' end
  else case when ${casts.arrivedAt} is null then 'post' when (${casts.drying} ->> 'until')::timestamptz > ${now}::timestamptz then 'drying' else 'scan' end end`;

/** Since when it waits for that, as far as the rows tell; an ISO text. */
export const waitsSince: SQL<string> = sql<string>`to_char(case ${casts.state}
  when 'in-work' then coalesce(${newest('created_at')}, ${casts.changedAt})
  when 'to-review' then coalesce(${newest('ended_at')}, ${casts.changedAt})
  when 'awaiting-scan' then coalesce(greatest(${casts.arrivedAt}, case when (${casts.drying} ->> 'until')::timestamptz <= now() then (${casts.drying} ->> 'until')::timestamptz end), ${casts.createdAt})
  else coalesce((select a.created_at from approvals a where a.cast_id = ${casts.id} order by a.created_at desc limit 1), ${casts.changedAt}) end at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

export const newestRevisionId = sql<string | null>`${newest('id')}`;

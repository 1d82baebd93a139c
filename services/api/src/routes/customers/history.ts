import { desc, eq, sql } from 'drizzle-orm';
import { casts, orders, revisions, ruleSets } from '@cast-to-last/runtime/records/schema';
import { route } from '../../http/route.js';

const MOST_CASTS = 200;

/** The day of a cast: the order's own date, else when the cast arrived, else when it was booked in. */
const dayOf = sql<string>`coalesce(${orders.content} ->> 'date', to_char(coalesce(${casts.arrivedAt}, ${casts.createdAt}) at time zone 'UTC', 'YYYY-MM-DD'))`;

export const readHistory = route({
  method: 'get', path: '/customers/:id/history', summary: 'Casts of a customer over time with their measures and the uncertainty of each, newest first.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const rows = await db
      .select({
        castId: casts.id, orderId: casts.orderId, orderNumber: orders.number, discipline: orders.discipline, side: casts.side, state: casts.state, at: casts.createdAt, day: dayOf,
        revisionId: revisions.id, approvedRevisionId: casts.approvedRevisionId, rulesName: ruleSets.name, rulesNumber: ruleSets.number, summary: revisions.summary,
      })
      .from(casts).innerJoin(orders, eq(orders.id, casts.orderId)).leftJoin(revisions, eq(revisions.id, casts.currentRevisionId)).leftJoin(ruleSets, eq(ruleSets.id, revisions.ruleSetId))
      .where(eq(orders.customerId, id)).orderBy(desc(dayOf), desc(casts.id)).limit(MOST_CASTS);
    const items = rows.map(({ summary, ...row }) => {
      const taken = (summary?.measurements ?? []).flatMap((m) => ('value' in m && m.on === 'cast' ? [m] : []));
      return {
        ...row, verdict: summary?.verdict ?? null,
        measures: Object.fromEntries(taken.map((m) => [m.id, m.value])),
        details: Object.fromEntries(taken.map((m) => [m.id, { label: m.label, unit: m.unit, uncertainty: m.uncertainty }])),
      };
    });
    return { body: { items, next: null } };
  },
});

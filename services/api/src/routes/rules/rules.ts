import { randomUUID } from 'node:crypto';
import { and, eq, inArray, max, sql } from 'drizzle-orm';
import { z } from 'zod';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { rulesSchema } from '@cast-to-last/pipeline/rules-schema/rules-schema';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { IMPORTED_PREFIX } from '@cast-to-last/runtime/archives/import-order';
import { people, ruleSets } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { conflict, notFound, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { TRIAL_PREFIX, isOwn } from './current-rules.js';
import { jsonDifferences } from './json-differences.js';

const listed = ({ id, version, name, number, sha256: digest, note, personId, createdAt }: RowOf<'rule_sets'>) => ({ id, version, name, number, sha256: digest, note, personId, createdAt });
const shown = (row: RowOf<'rule_sets'>) => ({ ...listed(row), content: row.content });

/** How many casts have a result by these rules as their present one. */
const castsBy = sql<number>`(select count(*) from casts c join revisions r on r.id = c.current_revision_id where r.rule_set_id = ${ruleSets.id})`.mapWith(Number);

export const listRules = route({
  method: 'get', path: '/rules', summary: 'Versions of the rule sets, newest first; new scans are worked by the first.', query: z.strictObject(pageQuery),
  handle: async ({ service: { runtime: { records: { db } } }, query }) => {
    const { where, orderBy } = newestFirst(ruleSets, query);
    const rows = await db.select({ rules: ruleSets, personName: people.displayName, casts: castsBy })
      .from(ruleSets).leftJoin(people, eq(people.id, ruleSets.personId)).where(and(where, isOwn)).orderBy(...orderBy).limit(query.limit + 1);
    return { body: pageOf(rows.map(({ rules, ...more }) => ({ ...rules, ...more })), query, ({ personName, casts, ...row }) => ({ ...listed(row), personName, casts })) };
  },
});

const SCHEMA = rulesSchema();

export const readRulesSchema = route({
  method: 'get', path: '/rules/schema', summary: 'The keys of a rule set as a JSON Schema (2020-12): title, description, unit, limits and default of each.',
  handle: async () => ({ body: SCHEMA, headers: { 'Content-Type': 'application/schema+json' } }),
});

export const readRules = route({
  method: 'get', path: '/rules/:id', summary: 'One version of a rule set.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id } }) => {
    const [row] = await db.select({ rules: ruleSets, personName: people.displayName, casts: castsBy }).from(ruleSets).leftJoin(people, eq(people.id, ruleSets.personId)).where(eq(ruleSets.id, id));
    if (row === undefined) throw notFound('rule set');
    const { rules, ...more } = row;
    return { body: { ...shown(rules), content: parseRules(rules.content), ...more, trial: rules.name.startsWith(TRIAL_PREFIX) }, version: rules.version };
  },
});

export const addRules = route({
  method: 'post', path: '/rules', summary: 'Adds a version of a rule set; versions never change. `basedOn`: the newest version as it was read.', status: 201,
  body: z.strictObject({ name: z.string().trim().min(1).max(80), content: z.record(z.string(), z.unknown()), note: z.string().trim().max(2000).optional(), basedOn: z.uuid().optional() }),
  handle: async ({ service: { runtime }, by, body: { name, content, note, basedOn } }) => {
    const prefix = [TRIAL_PREFIX, IMPORTED_PREFIX].find((reserved) => name.startsWith(reserved));
    if (prefix !== undefined) throw unusable([{ path: 'name', message: `must not begin with "${prefix}"` }]);
    const given = parseRules({ ...content, name });
    const id = randomUUID();
    const row = await runtime.records.change(by, 'rules.added', { table: 'rule_sets', id }, async (draft) => {
      const [{ last }] = await draft.tx.select({ last: max(ruleSets.number) }).from(ruleSets).where(eq(ruleSets.name, name));
      if (basedOn !== undefined) {
        const base = await draft.expect('rule_sets', basedOn);
        if (base.name === name && base.number !== last) throw conflict('changed-meanwhile', `Version ${last} of these rules was added meanwhile.`, 'Look at it and decide again.', { current: { number: last } });
      }
      const number = (last ?? 0) + 1;
      const rules = { ...given, version: String(number) };
      return draft.put('rule_sets', { id, name, number, content: rules, sha256: jsonSha256(rules), note: note ?? null, personId: by.id });
    });
    return { status: 201, body: shown(row), version: row.version };
  },
});

export const checkRules = route({
  method: 'post', path: '/rules/check', summary: 'Whether this could be a version of rules: all that is wrong with it, by path; nothing is kept.',
  body: z.strictObject({ content: z.record(z.string(), z.unknown()) }),
  handle: async ({ body: { content } }) => {
    try {
      return { body: { faults: [], content: parseRules(content) } };
    } catch (error) {
      if (!(error instanceof CastError)) throw error;
      return { body: { faults: error.faults, content: null } };
    }
  },
});

export const compareRules = route({
  method: 'get', path: '/rules/:id/diff/:otherId', summary: 'What differs between two versions: path, value in the first, value in the second.',
  handle: async ({ service: { runtime: { records: { db } } }, params: { id, otherId } }) => {
    const rows = await db.select().from(ruleSets).where(inArray(ruleSets.id, [id, otherId]));
    const [from, to] = [id, otherId].map((wanted) => rows.find((row) => row.id === wanted));
    if (from === undefined || to === undefined) throw notFound('rule set');
    return { body: { differences: jsonDifferences(parseRules(from.content), parseRules(to.content)) } };
  },
});

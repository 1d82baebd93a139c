import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { route } from '../../http/route.js';
import { TRIAL_PREFIX } from '../rules/current-rules.js';

/** What rules of one cast alone say after the number of the version that they change. */
const OWN_RULES = ', changed for this cast';
/** Of a rule set's version: see the rules' own limit. */
const VERSION_LENGTH = 40;

export const addOwnRules = route({
  method: 'post', path: '/casts/:id/rules', summary: 'Keeps rules for this cast alone: no version of the workshop\'s, and no other cast is made by them. A result by them is then asked for like any other.', status: 201,
  body: z.strictObject({ content: z.record(z.string(), z.unknown()) }),
  handle: async ({ service: { runtime }, by, params: { id: castId }, body: { content } }) => {
    const given = parseRules(content);
    const version = given.version.endsWith(OWN_RULES) ? given.version : given.version.slice(0, VERSION_LENGTH - OWN_RULES.length) + OWN_RULES;
    const rules = { ...given, version };
    const id = randomUUID();
    await runtime.records.change(by, 'rules.own', { table: 'casts', id: castId }, async (draft) => {
      await draft.expect('casts', castId);
      await draft.put('rule_sets', { id, name: `${TRIAL_PREFIX}${id}`, number: 1, content: rules, sha256: jsonSha256(rules), personId: by.id });
    });
    return { status: 201, body: { rulesId: id, name: rules.name, version }, headers: { Location: `/api/v1/rules/${id}` } };
  },
});

import { z } from 'zod';
import { ruleSet } from '../rules/rules.js';
import { BENCH_WORDS } from './bench-words.js';
import { CHECK_WORDS } from './check-words.js';
import { LAST_WORDS } from './last-words.js';
import { MAKING_WORDS } from './making-words.js';
import type { RuleWordsTable } from './rule-words.js';

export const RULE_WORDS: RuleWordsTable = { ...BENCH_WORDS, ...CHECK_WORDS, ...LAST_WORDS, ...MAKING_WORDS };

/** A JSON Schema of the dialect 2020-12, as far as it is walked here. */
export interface RuleSchema {
  readonly [keyword: string]: unknown;
  readonly properties?: Readonly<Record<string, RuleSchema>>;
  readonly additionalProperties?: RuleSchema | boolean;
  readonly items?: RuleSchema;
  readonly prefixItems?: readonly RuleSchema[];
  readonly anyOf?: readonly RuleSchema[];
}

/**
 * The rule set as a JSON Schema: limits and defaults of every key from what checks it, with `title`, `description`, and
 * beside the keywords of the dialect `unit` for numbers and `choices`, a title for each value of a choice. What one key
 * asks of another is in the descriptions; `parseRules` holds it.
 */
export function rulesSchema(): RuleSchema {
  return withWords(z.toJSONSchema(ruleSet, { io: 'input', target: 'draft-2020-12' }) as RuleSchema, '');
}

const joined = (path: string, key: string): string => (path === '' ? key : `${path}.${key}`);

/** Words stand at a key's own place and not inside its alternatives. */
function withWords(schema: RuleSchema, path: string, isAlternative = false): RuleSchema {
  const { properties, additionalProperties, items, prefixItems, anyOf } = schema;
  return {
    ...(!isAlternative && RULE_WORDS[path]),
    ...schema,
    ...(properties !== undefined && { properties: Object.fromEntries(Object.entries(properties).map(([key, of]) => [key, withWords(of, joined(path, key))])) }),
    ...(typeof additionalProperties === 'object' && { additionalProperties: withWords(additionalProperties, joined(path, '*')) }),
    // Of a tuple the items are its prefix, and `items` allows no more.
    ...(items !== undefined && prefixItems === undefined && { items: withWords(items, `${path}[]`) }),
    ...(prefixItems !== undefined && { prefixItems: prefixItems.map((of) => withWords(of, `${path}[]`)) }),
    ...(anyOf !== undefined && { anyOf: anyOf.map((of) => withWords(of, path, true)) }),
  };
}

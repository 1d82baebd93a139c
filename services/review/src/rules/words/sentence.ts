import { figure } from '../../parts/figures.js';
import type { RuleSchema } from '../../server/rule-schema.js';
import { valueAt } from '../lines.js';
import type { Json, RuleLine } from '../lines.js';
import { BENCH_SENTENCES } from './bench-sentences.js';
import { CHECK_SENTENCES } from './check-sentences.js';
import { LAST_SENTENCES } from './last-sentences.js';
import { MAKING_SENTENCES } from './making-sentences.js';

/**
 * What each rule says, by its pattern: a sentence for a value of its own, `''` for any other, `item` for each item of a
 * list, `none` for nothing in it. `{}` stands for the value, `{key}` for a part of it.
 */
export type Sentences = Readonly<Record<string, Readonly<Record<string, string>>>>;

export const SENTENCES: Sentences = { ...BENCH_SENTENCES, ...LAST_SENTENCES, ...MAKING_SENTENCES, ...CHECK_SENTENCES };

/** Words, and numbers among them that stand out. */
export type Said = readonly { readonly text: string; readonly strong: boolean }[];

/** One value with its unit, as it is written: "4 mm", "0.45", "90 days". */
export function withUnit(value: Json, { unit }: RuleSchema): string {
  if (typeof value !== 'number') return String(value ?? '–');
  const text = figure(value, 3);
  if (unit === undefined || unit === 'share') return text;
  if (unit === '°' || unit === '%') return `${text}${unit === '%' ? ' %' : '°'}`;
  if (unit === 'pieces') return `${text} ${value === 1 ? 'drain' : 'drains'}`;
  return `${text} ${unit === 'days' && value === 1 ? 'day' : unit}`;
}

/** The sentences that a rule with this value says; a list says one for each item. */
export function say(line: RuleLine, value: Json): Said[] {
  const sentences = SENTENCES[line.pattern];
  if (value === undefined) return [[{ text: 'Not in these rules.', strong: false }]];
  if (sentences === undefined) return [[{ text: `${line.schema.title ?? line.pattern}: `, strong: false }, { text: JSON.stringify(value), strong: true }]];
  if (line.kind === 'list') {
    const items = Array.isArray(value) ? value : [];
    if (items.length === 0) return [filled(sentences.none, () => '')];
    return items.map((item) => filled(sentences.item, (key) => withUnit(valueAt(item, key.split('.')), schemaAt(line.schema.items, key.split('.')))));
  }
  if (line.kind === 'ease') return [saidEase(line, value, sentences)];
  const own = typeof value === 'object' && value !== null ? undefined : sentences[String(value)];
  const parts = new Map(line.parts);
  return [filled(own ?? sentences[''] ?? '', (key) => (key === '' ? withUnit(value, line.schema) : withUnit(valueAt(value, [key]), parts.get(key) ?? {})))];
}

function saidEase(line: RuleLine, value: Json, sentences: Sentences[string]): Said {
  const [[key, amount] = ['mm', 0]] = Object.entries((value ?? {}) as Record<string, number>);
  if (amount === 0) return filled(sentences.none, () => '');
  const part = new Map(line.parts).get(key) ?? {};
  return filled(sentences[''], () => `${Number(amount) > 0 ? '+' : ''}${withUnit(amount, part)}`);
}

const schemaAt = (schema: RuleSchema | undefined, [key, ...rest]: readonly string[]): RuleSchema => {
  if (schema === undefined || key === undefined) return schema ?? {};
  return schemaAt(schema.properties?.[key] ?? schema.prefixItems?.[Number(key)], rest);
};

function filled(sentence: string, value: (key: string) => string): Said {
  return sentence.split(/(\{[^}]*\})/).filter((text) => text !== '').map((text) => (text.startsWith('{') ? { text: value(text.slice(1, -1)), strong: true } : { text, strong: false }));
}

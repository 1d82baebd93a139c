import type { RuleSchema } from '../server/rule-schema.js';

/** How a rule is held: what its input and its sentence look like. */
export type LineKind = 'number' | 'maybe-number' | 'switch' | 'choice' | 'ease' | 'numbers' | 'maybe-numbers' | 'list' | 'text';

/** One rule: what is read, changed and compared as a whole. */
export interface RuleLine {
  /** Keys from the top. */
  readonly keys: readonly string[];
  /** Keys joined by dots, names that a workshop chose as `*`: of words and pictures. */
  readonly pattern: string;
  readonly kind: LineKind;
  readonly schema: RuleSchema;
  /** Of kinds with several numbers: each with its key. */
  readonly parts: readonly (readonly [string, RuleSchema])[];
}

/** Rules that belong together, under one heading. */
export interface RuleGroup {
  readonly keys: readonly string[];
  readonly title: string;
  readonly description: string;
  readonly lines: readonly RuleLine[];
  /** Where a workshop may add groups beside this one: the keys of their parent. */
  readonly named: boolean;
}

export interface Room {
  readonly key: string;
  readonly title: string;
  readonly description: string;
  readonly groups: readonly RuleGroup[];
}

/** In the order in which a cast meets them. */
const ROOMS = ['marks', 'smoothing', 'last', 'making', 'scanner', 'sheet', 'check'] as const;

export type Json = unknown;

export const valueAt = (content: Json, keys: readonly string[]): Json =>
  keys.reduce<Json>((at, key) => (typeof at === 'object' && at !== null ? (at as Record<string, Json>)[key] : undefined), content);

/** A copy with another value at these keys; undefined takes the key away. */
export function withValue(content: Json, [key, ...rest]: readonly string[], value: Json): Json {
  if (key === undefined) return value;
  if (Array.isArray(content)) return content.map((item, i) => (String(i) === key ? withValue(item, rest, value) : item));
  const { [key]: before, ...others } = (content ?? {}) as Record<string, Json>;
  const after = withValue(before, rest, value);
  if (after === undefined) return others;
  return Object.fromEntries(Object.entries({ ...(content as object), [key]: after }));
}

/** The rooms of a rule set; kinds of footwear are those that `content` names. */
export function roomsOf(schema: RuleSchema, ...contents: readonly Json[]): Room[] {
  return ROOMS.flatMap((key) => {
    const of = schema.properties?.[key];
    return of === undefined ? [] : [{ key, title: of.title ?? key, description: of.description ?? '', groups: groupsOf(of, [key], key, contents) }];
  });
}

function groupsOf(schema: RuleSchema, keys: readonly string[], pattern: string, contents: readonly Json[], named = false): RuleGroup[] {
  const lines: RuleLine[] = [];
  const below: RuleGroup[] = [];
  for (const [key, of] of Object.entries(schema.properties ?? {})) {
    const [at, path] = [[...keys, key], `${pattern}.${key}`];
    const line = lineOf(of, at, path);
    if (line !== null) lines.push(line);
    else if (typeof of.additionalProperties === 'object') below.push(...namedGroups(of, at, path, contents));
    else below.push(...groupsOf(of, at, path, contents));
  }
  const own = lines.length === 0 ? [] : [{ keys, title: schema.title ?? keys[keys.length - 1], description: schema.description ?? '', lines, named }];
  return [...own, ...below];
}

function namedGroups({ properties = {}, additionalProperties }: RuleSchema, keys: readonly string[], pattern: string, contents: readonly Json[]): RuleGroup[] {
  const added = contents.flatMap((content) => Object.keys((valueAt(content, keys) ?? {}) as object)).filter((name) => properties[name] === undefined);
  const all = [...Object.entries(properties), ...[...new Set(added)].map((name) => [name, { ...(additionalProperties as RuleSchema), title: name }] as const)];
  return all.flatMap(([name, of]) => groupsOf(of, [...keys, name], `${pattern}.*`, contents, true));
}

const isNumber = ({ type }: RuleSchema): boolean => type === 'number' || type === 'integer';
const allNumbers = ({ properties }: RuleSchema): boolean => properties !== undefined && Object.keys(properties).length > 0 && Object.values(properties).every(isNumber);

/** The numbers of these groups are one rule: they mean nothing without each other. */
const TOGETHER = /\.(drain)$/;

function lineOf(schema: RuleSchema, keys: readonly string[], pattern: string): RuleLine | null {
  const line = (kind: LineKind, parts: RuleLine['parts'] = []): RuleLine => ({ keys, pattern, kind, schema, parts });
  const numbersOf = (of: RuleSchema): RuleLine['parts'] => Object.entries(of.properties ?? {});
  if (isNumber(schema)) return line('number');
  if (schema.type === 'boolean') return line('switch');
  if (schema.enum !== undefined) return line('choice');
  if (schema.type === 'string') return line('text');
  const options = schema.anyOf?.filter(({ type }) => type !== 'null') ?? [];
  const orNull = options.length < (schema.anyOf?.length ?? 0);
  if (orNull && isNumber(options[0])) return { ...line('maybe-number'), schema: { ...schema, ...limitsOf(options[0]) } };
  if (orNull) return line('maybe-numbers', numbersOf(options[0]));
  if (options.length === 2) return line('ease', options.flatMap(numbersOf));
  if (schema.prefixItems !== undefined) return line('numbers', schema.prefixItems.map((of, i) => [String(i), of] as const));
  if (schema.items !== undefined) return line('list');
  if (allNumbers(schema) && (schema.properties?.care !== undefined || TOGETHER.test(pattern))) return line('numbers', numbersOf(schema));
  return null;
}

const limitsOf = ({ type, minimum, maximum }: RuleSchema): RuleSchema => ({ ...(type !== undefined && { type }), ...(minimum !== undefined && { minimum }), ...(maximum !== undefined && { maximum }) });

export const linesOf = (rooms: readonly Room[]): RuleLine[] => rooms.flatMap(({ groups }) => groups.flatMap(({ lines }) => lines));

const same = (a: Json, b: Json): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));

/** Keys in one order, so that the order in which a file has them makes no difference. */
function sorted(value: Json): Json {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, of]) => [key, sorted(of)]));
}

export interface RuleChange {
  readonly line: RuleLine;
  readonly from: Json;
  readonly to: Json;
}

/** The rules that differ between two contents, in the order of the rooms. */
export const changesBetween = (rooms: readonly Room[], from: Json, to: Json): RuleChange[] =>
  linesOf(rooms).map((line) => ({ line, from: valueAt(from, line.keys), to: valueAt(to, line.keys) })).filter((change) => !same(change.from, change.to));

/** The line that a fault's path lies in: `last.top.pins[0].along` in that of `last.top.pins`. */
export const faultsAt = (line: RuleLine, faults: readonly { readonly path: string; readonly message: string }[]) => {
  const own = line.keys.join('.');
  return faults.filter(({ path }) => path === own || path.startsWith(`${own}.`) || path.startsWith(`${own}[`));
};

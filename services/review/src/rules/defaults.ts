import type { RuleSchema } from '../server/rule-schema.js';
import type { Json } from './lines.js';

/** The value that every rule has where a file does not name it. */
export function defaultsOf(schema: RuleSchema): Json {
  if (schema.properties === undefined) return schema.default;
  const own = Object.fromEntries(Object.entries(schema.properties).map(([key, of]) => [key, defaultsOf(of)]));
  return typeof schema.default === 'object' && schema.default !== null ? { ...own, ...(schema.default as object) } : own;
}

/** A content with defaults for what it leaves out; keys that no rule has stay, to be told of. */
export function filledIn(schema: RuleSchema, content: Json): Json {
  if (content === undefined) return defaultsOf(schema);
  if (schema.properties === undefined || typeof content !== 'object' || content === null || Array.isArray(content)) return content;
  const own = Object.entries(schema.properties).map(([key, of]) => [key, filledIn(of, (content as Record<string, Json>)[key])]);
  const named = typeof schema.additionalProperties === 'object' ? schema.additionalProperties : {};
  const others = Object.entries(content).filter(([key]) => schema.properties?.[key] === undefined).map(([key, of]) => [key, filledIn(named, of)]);
  return Object.fromEntries([...own, ...others]);
}

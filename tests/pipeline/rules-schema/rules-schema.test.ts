import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { RULE_WORDS, rulesSchema } from '@cast-to-last/pipeline/rules-schema/rules-schema';
import type { RuleSchema } from '@cast-to-last/pipeline/rules-schema/rules-schema';

const schema = rulesSchema();
const ajv = new Ajv2020({ strict: true, strictTypes: false, strictTuples: false, keywords: ['unit', 'choices'] });
const holds = ajv.compile(schema);

interface Place {
  readonly path: string;
  readonly schema: RuleSchema;
}

/** Every key, group, item and alternative of the schema, with its path. */
function places(of: RuleSchema, path = '', out: Place[] = [], isAlternative = false): Place[] {
  if (!isAlternative) out.push({ path, schema: of });
  const below = (key: string): string => (path === '' ? key : `${path}.${key}`);
  for (const [key, inner] of Object.entries(of.properties ?? {})) places(inner, below(key), out);
  if (typeof of.additionalProperties === 'object') places(of.additionalProperties, below('*'), out);
  for (const inner of of.prefixItems ?? (of.items === undefined ? [] : [of.items])) places(inner, `${path}[]`, out);
  for (const inner of of.anyOf ?? []) places(inner, path, out, true);
  return out;
}

const all = places(schema);
const forms = ({ schema: of }: Place): RuleSchema[] => [of, ...(of.anyOf ?? [])];
const numbers = all.filter((place) => forms(place).some(({ type }) => type === 'number' || type === 'integer'));

describe('the schema of the rules', () => {
  it('has a title and a description for every key, and none for keys that there are not', () => {
    expect(all.length).toBeGreaterThan(120);
    expect(all.filter(({ schema: { title, description } }) => typeof title !== 'string' || typeof description !== 'string' || !description.endsWith('.')).map(({ path }) => path)).toEqual([]);
    const known = new Set(all.map(({ path }) => path));
    expect(Object.keys(RULE_WORDS).filter((path) => !known.has(path))).toEqual([]);
  });

  it('has a unit and both limits for every number, and a unit for nothing else', () => {
    expect(numbers.length).toBeGreaterThan(70);
    expect(numbers.filter(({ schema: { unit } }) => unit === undefined).map(({ path }) => path)).toEqual([]);
    const endless = numbers.filter((place) => forms(place).some(({ type, minimum, maximum }) => (type === 'number' || type === 'integer') && (minimum === undefined || maximum === undefined)));
    expect(endless.map(({ path }) => path)).toEqual(['marks.protect[].centre[]', 'marks.protect[].centre[]', 'marks.protect[].centre[]']);
    expect(all.filter((place) => place.schema.unit !== undefined && !numbers.includes(place)).map(({ path }) => path)).toEqual([]);
    // The unit in a key's name is the one that is told.
    const UNITS = { Mm: 'mm', Deg: '°', Percent: '%', Days: 'days' } as Record<string, string>;
    const told = numbers.flatMap(({ path, schema: { unit } }) => {
      const named = UNITS[/(Mm|Deg|Percent|Days)$/.exec(path)?.[1] ?? ''];
      return named === undefined || named === unit ? [] : [path];
    });
    expect(told).toEqual([]);
  });

  it('titles every value of every choice', () => {
    const choices = all.filter(({ schema: of }) => Array.isArray(of.enum));
    expect(choices.length).toBeGreaterThan(8);
    for (const { path, schema: of } of choices) expect(Object.keys((of.choices ?? {}) as object).sort(), path).toEqual([...(of.enum as string[])].sort());
    expect(all.filter(({ schema: of }) => of.choices !== undefined && of.enum === undefined).map(({ path }) => path)).toEqual([]);
  });

  it('gives for each key the default that the rules have', () => {
    const at = (path: string): unknown => path.split('.').reduce<unknown>((value, key) => (value as Record<string, unknown>)[key], DEFAULT_RULES);
    const leaves = all.filter(({ path, schema: of }) => path !== '' && !/[[*]/.test(path) && of.properties === undefined && !/\.(mm|percent)$/.test(path) && !/^last\.top\.(line|thimble)\./.test(path));
    expect(leaves.length).toBeGreaterThan(80);
    expect(Object.fromEntries(leaves.map(({ path, schema: of }) => [path, of.default]))).toEqual(Object.fromEntries(leaves.map(({ path }) => [path, at(path)])));
  });

  it('takes what the rules take, and refuses what lies outside a limit', () => {
    for (const good of [{}, DEFAULT_RULES, { last: { ease: { ball: { percent: 2 } } } }, { check: { disciplines: { 'dance-type': { forwardLeanDeg: 4 } } } }]) {
      expect(holds(good), JSON.stringify(holds.errors)).toBe(true);
      parseRules(good);
    }
    for (const bad of [{ marks: { minDepthMm: 9 } }, { marks: { depth: 1 } }, { smoothing: { seam: 'no' } }, { last: { ease: { ball: { mm: 99 } } } }, { check: { soleBend: { care: 99 } } }]) {
      expect(holds(bad), JSON.stringify(bad)).toBe(false);
      expect(() => parseRules(bad)).toThrow();
    }
  });
});

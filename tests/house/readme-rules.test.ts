import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';

const ROOT = new URL('../../', import.meta.url);
const readme = readFileSync(new URL('README.md', ROOT), 'utf8');

/** The rules that the README's table of limits names, with the defaults that it gives. */
const rows = new Map([...readme.matchAll(/^\| `check\.([\w.]+)` \| ([^|]+) \|/gm)].map(([, key, value]) => [key, value.trim()]));

/** A rule's default as the table shows it. */
const shown = (value: number | { care: number; recast: number }): string => (typeof value === 'number' ? String(value) : `\`care\` ${value.care}, \`recast\` ${value.recast}`);

describe('the README', () => {
  it('names every limit of the cast check with its default', () => {
    const { disciplines, pair, ...plain } = DEFAULT_RULES.check;
    const expected = new Map<string, string>([
      ...Object.entries(plain).map(([key, value]) => [key, shown(value)] as const), ...Object.entries(pair).map(([key, value]) => [`pair.${key}`, shown(value)] as const),
    ]);
    rows.delete('disciplines.NAME');
    expect(Object.fromEntries(rows)).toEqual(Object.fromEntries(expected));
    const { other, 'skating-type': skating } = disciplines;
    for (const row of [
      `\`.forwardLeanDeg\` | ${other.forwardLeanDeg}; \`skating-type\` ${skating.forwardLeanDeg} |`, `\`.forwardLean\` | ${shown(other.forwardLean)} |`,
      `\`.rearViewDeg\` | ${other.rearViewDeg} |`, `\`.rearView\` | ${shown(other.rearView)} |`,
    ]) expect(readme).toContain(row);
  });

  it('shows orders that are taken', () => {
    const examples = [...readme.matchAll(/```json\n(\{[^`]*"orderNumber"[^`]*\})\n```/g)].map(([, json]) => JSON.parse(json));
    expect(examples).toHaveLength(1);
    for (const example of examples) expect(Object.keys(parseOrder(example)).sort()).toEqual(Object.keys(example).sort());
  });
});

describe('the sample orders', () => {
  const folder = new URL('sample-meshes/', ROOT);
  const json = (name: string) => JSON.parse(readFileSync(new URL(name, folder), 'utf8'));
  const rules = parseRules(json('workshop.rules.json'));

  it('are taken, bear their number, and name kinds of footwear that the sample rules list', () => {
    const names = readdirSync(folder).filter((name) => name.endsWith('.order.json'));
    expect(names.length).toBeGreaterThan(3);
    for (const name of names) {
      const order = parseOrder(json(name));
      expect(`${order.orderNumber}.order.json`).toBe(name);
      expect(Object.keys(rules.check.disciplines)).toContain(order.discipline);
    }
  });
});

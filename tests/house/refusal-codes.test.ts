import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../../', import.meta.url).pathname;

const sources = readdirSync(join(ROOT, 'packages'), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && /\/src(\/|$)/.test(entry.parentPath) && !entry.parentPath.includes('node_modules'))
  .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'));

/** Codes given to CastError in place, to refuseBadKeys and readJsonFile, and those of the readers that become CastErrors. */
function codesInUse(): Set<string> {
  const codes = new Set<string>();
  for (const text of sources) {
    for (const [, code] of text.matchAll(/(?:new CastError|refuseBadKeys)\(\s*'([a-z-]+)'/g)) codes.add(code);
    for (const [, code] of text.matchAll(/read(?:Optional)?JsonFile\([^;]*?, '([a-z-]+)'\)/g)) codes.add(code);
    for (const [, union] of text.matchAll(/type (?:MeshFormat|BreakThrough)Code =([^;]+);/g)) for (const [, code] of union.matchAll(/'([a-z-]+)'/g)) codes.add(code);
  }
  return codes;
}

const documented = new Set(
  [...(readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8').split('## Refusals')[1] ?? '').matchAll(/^\| (`[^|]+) \|/gm)].flatMap(([, cell]) =>
    [...cell.matchAll(/`([a-z-]+)`/g)].map(([, code]) => code),
  ),
);

describe('refusal codes', () => {
  it('are found at all', () => {
    expect(codesInUse().size).toBeGreaterThan(20);
  });

  it('each stand in the table of DEVELOPERS.md, and nothing else does', () => {
    const used = codesInUse();
    expect([...used].filter((code) => !documented.has(code))).toEqual([]);
    expect([...documented].filter((code) => !used.has(code))).toEqual([]);
  });
});

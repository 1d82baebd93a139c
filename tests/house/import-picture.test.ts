import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../../', import.meta.url).pathname;

/** From the programs down to the triangles. */
const ORDER = ['api', 'cast-worker', 'cli', 'review', 'runtime', 'pipeline', 'sheet', 'foot', 'geometry'];

/** Who imports whom, as the sources say; `(types)` where nothing but types is taken. */
function picture(): string {
  const rows = ['services', 'workers', 'packages'].flatMap((room) => readdirSync(join(ROOT, room)).map((name) => ({ name, folder: join(ROOT, room, name, 'src') }))).filter(({ folder }) => existsSync(folder));
  expect(rows.map(({ name }) => name).sort()).toEqual([...ORDER].sort());
  return rows
    .sort((a, b) => ORDER.indexOf(a.name) - ORDER.indexOf(b.name))
    .map(({ name, folder }) => {
      const code = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((path) => /\.tsx?$/.test(path)).map((path) => readFileSync(join(folder, path), 'utf8')).join('\n');
      const statements = [...code.matchAll(/(?:^import (type )?[^;]*?|\bimport\()'@cast-to-last\/([\w-]+)\//gm)];
      const others = ORDER.filter((other) => other !== name && statements.some((m) => m[2] === other));
      const told = others.map((other) => (statements.every((m) => m[2] !== other || m[1] !== undefined) ? `${other} (types)` : other));
      return `${name.padEnd(12)}→ ${told.length === 0 ? 'nothing of the house' : told.join(', ')}`;
    })
    .join('\n');
}

describe('DEVELOPERS.md', () => {
  it('shows who imports whom as it is', () => {
    expect(readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8')).toContain(`\`\`\`\n${picture()}\n\`\`\``);
  });
});

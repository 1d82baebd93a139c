import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const PACKAGES = new URL('../../packages/', import.meta.url);

/** An array that is made to be taken apart at once: `const [x, y] = [a, b]`. One that is mapped on its way is made anyway. */
const TAKEN_APART = /^\s*(?:(?:const|let) )?\[[\w, ]+\] = \[(?!.*\]\.map\()/;

describe('in what runs for each vertex', () => {
  it.each(['geometry', 'foot', 'pipeline'])('%s takes no array literal apart', (name) => {
    const folder = new URL(`${name}/src/`, PACKAGES);
    const found = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.ts')).flatMap((path) =>
      readFileSync(new URL(path, folder), 'utf8').split('\n').flatMap((line, i) => (TAKEN_APART.test(line) ? [`${path}:${i + 1}: ${line.trim()}`] : [])));
    expect(found).toEqual([]);
  });

  it('is told from what is no such array', () => {
    for (const line of ['  const [x, y] = [a, b];', '    [low, high] = [high, low];', 'let [sum, count] = [0, 0];']) expect(TAKEN_APART.test(line)).toBe(true);
    for (const line of ['const [first] = list;', 'const [a, b] = [0, 1].map((k) => p[k]);', 'const point = [x, y];']) expect(TAKEN_APART.test(line)).toBe(false);
  });
});

import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../../', import.meta.url).pathname;

const files = ['packages', 'services', 'workers', 'tests', 'infra'].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
    .filter((path) => !/(^|\/)(node_modules|dist)\//.test(path)));

/** What is read by people; figures and licences are written by programs. */
const documents = ['README.md', 'DEVELOPERS.md', ...files.filter((path) => path.endsWith('.md') && !/(FIGURES|PAGES|SUMMARY|LICENCES)\.md$/.test(path))];
const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const scripts = Object.keys(JSON.parse(textOf('package.json')).scripts);

describe('what is written for people', () => {
  it('is found at all', () => {
    expect(documents.length).toBeGreaterThan(8);
  });

  it('names sources that there are', () => {
    const wrong = documents.flatMap((document) =>
      [...textOf(document).matchAll(/`([\w./-]+\.(?:ts|tsx|mjs))`/g)]
        .map(([, name]) => name.replace(/^(\.\.\/)+/, ''))
        .filter((name) => !files.some((path) => path === name || path.endsWith(`/${name}`) || path.replace('/src/', '/').endsWith(`/${name}`)))
        .map((name) => `${document}: ${name}`));
    expect(wrong).toEqual([]);
  });

  it('names folders that there are', () => {
    const wrong = documents.flatMap((document) =>
      [...textOf(document).matchAll(/`((?:packages|services|workers|tests|infra|sample-meshes)(?:\/[\w-]+)*)\/?`/g)]
        .filter(([, folder]) => !existsSync(join(ROOT, folder)))
        .map(([, folder]) => `${document}: ${folder}`));
    expect(wrong).toEqual([]);
  });

  it('links to what is there', () => {
    const wrong = documents.flatMap((document) =>
      [...textOf(document).matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g)]
        .filter(([, target]) => !/^[a-z]+:/.test(target) && !existsSync(join(ROOT, dirname(document), target)))
        .map(([, target]) => `${document}: ${target}`));
    expect(wrong).toEqual([]);
  });

  it('names the commands that there are, each of them', () => {
    const text = documents.map(textOf).join('\n');
    const named = new Set([...text.matchAll(/npm (?:run (?:--silent )?)?([a-z][\w:-]*)/g)].map(([, name]) => name));
    expect([...named].filter((name) => !scripts.includes(name))).toEqual([]);
    expect(scripts.filter((name) => !named.has(name))).toEqual([]);
  });
});

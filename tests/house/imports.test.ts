import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../../', import.meta.url).pathname;

interface SourceFile {
  /** From the top of the checkout, with forward slashes. */
  readonly path: string;
  readonly text: string;
  /** What it imports, as written. */
  readonly imports: readonly string[];
}

function sources(folder: string, endings: RegExp): SourceFile[] {
  if (!existsSync(join(ROOT, folder))) return [];
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && endings.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .filter((path) => !/(^|\/)(node_modules|dist)\//.test(path))
    .sort()
    .map((path) => {
      const text = readFileSync(join(ROOT, path), 'utf8');
      const imports = [...text.matchAll(/(?:\bfrom\s+|\bimport\s*\(\s*|\bimport\s+|\bresolve\(\s*)'([^']+)'/g)].map((m) => m[1]);
      return { path, text, imports };
    });
}

const code = ['packages', 'services', 'workers'].flatMap((folder) => sources(folder, /\.tsx?$/)).filter(({ path }) => path.includes('/src/'));
const tests = sources('tests', /\.(ts|mjs)$/);
const infra = sources('infra', /\.mjs$/);
const packageOf = ({ path }: SourceFile): string => path.split('/')[1];

/** Lower floors first; a package imports its own floor's files and those below. */
const FLOORS = ['geometry', 'foot sheet', 'pipeline', 'runtime', 'cli api review cast-worker'];
const floorOf = (name: string): number => FLOORS.findIndex((floor) => floor.split(' ').includes(name));

/** The only files, or folders where they end in a slash, that may import a library. */
const DOORS: Record<string, readonly string[]> = {
  'three-mesh-bvh': ['packages/geometry/src/distance/bvh.ts'],
  three: ['packages/geometry/src/distance/bvh.ts', 'services/review/'],
  'manifold-3d': ['packages/geometry/src/solids/solid.ts'],
  meshoptimizer: ['packages/geometry/src/remeshing/lighten.ts', 'packages/geometry/src/formats/write-packed-glb.ts', 'packages/geometry/src/formats/read-packed-glb.ts'],
  pdfkit: ['packages/sheet/'],
  yazl: ['packages/geometry/src/formats/threemf.ts', 'packages/runtime/src/archives/'],
  yauzl: ['packages/runtime/src/archives/'],
  commander: ['packages/cli/'],
  'cli-progress': ['packages/cli/'],
  zod: ['packages/pipeline/src/', 'packages/runtime/src/config.ts', 'packages/runtime/src/archives/', 'packages/runtime/src/backup/restore.ts', 'packages/runtime/src/records/changes/change-files.ts', 'packages/runtime/src/records/instant-text.ts', 'services/api/'],
  bullmq: ['packages/runtime/src/jobs/'],
  ioredis: ['packages/runtime/src/jobs/'],
  '@electric-sql/pglite': ['packages/runtime/src/records/'],
  pg: ['packages/runtime/src/records/'],
  'drizzle-orm/pglite': ['packages/runtime/src/records/'],
  'drizzle-orm/node-postgres': ['packages/runtime/src/records/'],
  'drizzle-orm': ['packages/runtime/src/', 'services/api/'],
  '@aws-sdk/client-s3': ['packages/runtime/src/artifacts/object-store-blobs.ts'],
  pino: ['packages/runtime/src/log.ts'],
  express: ['services/api/'],
  'fast-png': ['services/api/src/threads/draw-stored-picture.ts'],
  preact: ['services/review/'],
  'prom-client': ['services/api/src/http/metrics.ts'],
};
const goesThrough = (path: string, doors: readonly string[]): boolean => doors.some((door) => (door.endsWith('/') ? path.startsWith(door) : path === door));

describe('the house', () => {
  it('has sources to look at', () => {
    expect(code.length).toBeGreaterThan(20);
    expect(tests.length).toBeGreaterThan(10);
    expect(code.flatMap((file) => file.imports).length).toBeGreaterThan(50);
  });

  it('imports only downwards', () => {
    const wrong = code.flatMap((file) =>
      file.imports
        .filter((name) => name.startsWith('@cast-to-last/'))
        .filter((name) => {
          const to = name.split('/')[1];
          return to !== packageOf(file) && !(floorOf(to) >= 0 && floorOf(to) < floorOf(packageOf(file)));
        })
        .map((name) => `${file.path} imports ${name}`),
    );
    expect(wrong).toEqual([]);
    for (const file of code) expect(floorOf(packageOf(file)), file.path).toBeGreaterThanOrEqual(0);
  });

  it('reaches its own files by relative path and other packages by name', () => {
    const wrong = code.flatMap((file) =>
      file.imports
        .filter((name) => name.startsWith(`@cast-to-last/${packageOf(file)}/`) || /^(\.\.\/)+(packages|node_modules|tests|infra)\//.test(name))
        .map((name) => `${file.path} imports ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  it('has one door to each library', () => {
    const wrong = code.flatMap((file) =>
      file.imports
        .filter((name) => {
          const library = Object.keys(DOORS).find((l) => name === l || name.startsWith(`${l}/`));
          return library !== undefined && !goesThrough(file.path, DOORS[library]);
        })
        .map((name) => `${file.path} imports ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  it('names every library that it imports in the package that does', () => {
    const wrong = code.flatMap((file) => {
      const manifest = JSON.parse(readFileSync(join(ROOT, ...file.path.split('/').slice(0, 2), 'package.json'), 'utf8'));
      return file.imports
        .filter((name) => !name.startsWith('.') && !name.startsWith('node:'))
        .map((name) => name.split('/').slice(0, name.startsWith('@') ? 2 : 1).join('/'))
        .filter((name) => manifest.dependencies?.[name] === undefined)
        .map((name) => `${file.path} imports ${name}`);
    });
    expect(wrong).toEqual([]);
  });

  it('has no circle of imports inside a package', () => {
    const byPath = new Map(code.map((file) => [file.path, file]));
    const targets = (file: SourceFile): string[] =>
      [...file.text.matchAll(/^(?:import|export) (?!type\b)[^;]*?from '(\.[^']+)'/gm)].map((m) =>
        relative(ROOT, join(ROOT, file.path, '..', m[1])).replaceAll('\\', '/').replace(/\.js$/, '.ts'),
      );
    const state = new Map<string, 'open' | 'done'>();
    const circles: string[] = [];
    const visit = (path: string, trail: string[]): void => {
      if (state.get(path) === 'done') return;
      if (state.get(path) === 'open') {
        circles.push([...trail.slice(trail.indexOf(path)), path].join(' → '));
        return;
      }
      state.set(path, 'open');
      const file = byPath.get(path);
      if (file !== undefined) for (const target of targets(file)) visit(target, [...trail, path]);
      state.set(path, 'done');
    };
    for (const { path } of code) visit(path, []);
    expect(circles).toEqual([]);
  });

  it('has no barrels', () => {
    const wrong = code.filter(({ path, text }) => path.endsWith('/index.ts') || /^export (\*|\{[^}]*\}) from/m.test(text)).map(({ path }) => path);
    expect(wrong).toEqual([]);
  });

  it('reads the environment nowhere but in runtime/config', () => {
    const wrong = code.filter(({ path, text }) => path !== 'packages/runtime/src/config.ts' && /process\.env\b/.test(text)).map(({ path }) => path);
    expect(wrong).toEqual([]);
  });

  it('keeps clock, chance, disk and console out of stages and everything under them', () => {
    const pure = code.filter((file) => ['geometry', 'foot', 'sheet', 'pipeline'].includes(packageOf(file)));
    const impure = /\bMath\.random\b|\bDate\.now\b|\bnew Date\(\)|\bperformance\.now\b|\bconsole\.|'node:(fs|child_process|net|http|os|worker_threads)(\/promises)?'/;
    expect(pure.filter(({ text }) => impure.test(text)).map(({ path }) => path)).toEqual([]);
  });

  it('declares no library that no source of the package imports', () => {
    // Types of a library, and what is read from its folder as a file, are no imports.
    const read = /@types\/|^@expo-google-fonts\/|^@fontsource-variable\//;
    const wrong = [...new Set(code.map(({ path }) => path.split('/').slice(0, 2).join('/')))].flatMap((folder) => {
      const imports = code.filter(({ path }) => path.startsWith(`${folder}/`)).flatMap((file) => file.imports);
      const { dependencies = {} } = JSON.parse(readFileSync(join(ROOT, folder, 'package.json'), 'utf8'));
      return Object.keys(dependencies).filter((name) => !read.test(name) && !imports.some((used) => used === name || used.startsWith(`${name}/`))).map((name) => `${folder} declares ${name}`);
    });
    expect(wrong).toEqual([]);
  });

  it('keeps files to one subject: at most 250 lines', () => {
    const long = [...code, ...tests].map(({ path, text }) => ({ path, lines: text.trimEnd().split('\n').length })).filter(({ lines }) => lines > 250);
    expect(long).toEqual([]);
  });

  it('leaves no unfinished work, no skipped tests and no names for nothing', () => {
    // Put together from halves, so that this file does not hold the words that it looks for.
    const words = [['TO', 'DO'], ['FIX', 'ME'], ['XX', 'X:']].map(([a, b]) => `\\b${a}${b}\\b`);
    const unfinished = new RegExp(words.join('|'));
    expect([...code, ...tests, ...infra].filter(({ text }) => unfinished.test(text)).map(({ path }) => path)).toEqual([]);
    const halted = /\b(it|test|describe|suite)(\.\w+)*\.(skip|only|todo|skipIf|runIf|fails)\b|\bx(it|describe)\(/;
    expect(tests.filter(({ text }) => halted.test(text)).map(({ path }) => path)).toEqual([]);
    const vague = /(^|\/)(data|info|utils?|helpers?|manager|misc|common)\.ts$/;
    expect([...code, ...tests].filter(({ path }) => vague.test(path)).map(({ path }) => path)).toEqual([]);
  });
});

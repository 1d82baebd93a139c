import { createHash } from 'node:crypto';
import { appendFileSync, existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BookCast, NotMade } from './cast-scores.js';
import type { TriedSetting } from './best-setting.js';

/** What the scores depend on: the pipeline, the generator of casts and the scoring. */
const SOURCES = ['packages/geometry/src', 'packages/foot/src', 'packages/pipeline/src', 'tests/phantoms', 'tests/accuracy'];

/** Scores of an earlier run that was ended before its time, by the same sources: the next run goes on from them. */
export class KeptScores {
  readonly casts: readonly (BookCast | NotMade)[];
  private readonly folder: string;

  constructor(triangles: number) {
    this.folder = join('out', 'accuracy', `scores-${sourcesHash()}-${triangles}`);
    mkdirSync(this.folder, { recursive: true });
    // A line that the end of the run cut short is none.
    this.casts = this.lines().flatMap((line) => {
      try {
        return [JSON.parse(line) as BookCast | NotMade];
      } catch {
        return [];
      }
    });
  }

  add(cast: BookCast | NotMade): void {
    // The line break comes first: a line that was cut short takes no other with it.
    appendFileSync(this.file('casts.jsonl'), `\n${JSON.stringify(cast)}`);
  }

  /** The settings that were tried, from the earlier run or by `tryAll`. */
  tried(tryAll: () => TriedSetting[]): TriedSetting[] {
    const path = this.file('settings.json');
    if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as TriedSetting[];
    const tried = tryAll();
    writeFileSync(path, JSON.stringify(tried));
    return tried;
  }

  private file = (name: string): string => join(this.folder, name);
  private lines = (): string[] => (existsSync(this.file('casts.jsonl')) ? readFileSync(this.file('casts.jsonl'), 'utf8').split('\n').filter((line) => line !== '') : []);
}

function sourcesHash(): string {
  const hash = createHash('sha256');
  for (const source of SOURCES) {
    const folder = fileURLToPath(new URL(`../../${source}/`, import.meta.url));
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
      if (name.endsWith('.ts') && !name.endsWith('.test.ts')) hash.update(name).update(readFileSync(join(folder, name)));
    }
  }
  return hash.digest('hex').slice(0, 12);
}

import { readFileSync } from 'node:fs';
import type { SampleRun } from './sample-run.js';

export const GOLDEN_PATH = new URL('./golden.json', import.meta.url);

export type GoldenSample = Pick<SampleRun, 'measures' | 'marks' | 'triangles' | 'volume'> & {
  /** Measures whose error is beyond the bar today, with that error, mm: they may not grow worse. */
  readonly beyondBar: { readonly [id: string]: number };
};

export interface Golden {
  /** Why the numbers were written anew, the latest first. */
  readonly reasons: readonly { readonly date: string; readonly why: string }[];
  readonly samples: { readonly [name: string]: GoldenSample };
  /** Over all samples: dents and bumps that FOUND_BAR counts, how many of them are found, and false marks, today. */
  readonly marks: { readonly counted: number; readonly found: number; readonly falseMarks: number };
}

export const readGolden = (): Golden => JSON.parse(readFileSync(GOLDEN_PATH, 'utf8')) as Golden;

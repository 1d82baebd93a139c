import { join } from 'node:path';
import type { ComparedResult, ComparedSurface } from '@cast-to-last/pipeline/pair/parse-result';
import { parseResult } from '@cast-to-last/pipeline/pair/parse-result';
import { readJsonFile, readNamedFile } from './read-input.js';

/** What `process` left in a folder. */
export interface ResultFolder {
  readonly result: ComparedResult;
  /** Bytes of cleaned.stl, or of last.stl. */
  readonly surface: Uint8Array;
}

/** The report of a folder. Throws WrongCall where there is none, CastError `bad-report` where it cannot be used. */
export async function readResult(folder: string): Promise<ComparedResult> {
  const path = join(folder, 'report.json');
  return parseResult(await readJsonFile(path, 'The report', 'bad-report'), `The report ${path}`);
}

/** Throws WrongCall where the folder lacks a file, CastError `bad-report` where its report cannot be used. */
export async function readResultFolder(folder: string, of: ComparedSurface = 'cast'): Promise<ResultFolder> {
  const result = await readResult(folder);
  return { result, surface: of === 'cast' ? await readNamedFile(join(folder, 'cleaned.stl'), 'The cleaned cast') : await readNamedFile(join(folder, 'last.stl'), 'The last') };
}

import { join } from 'node:path';
import type { ComparedResult } from '@cast-to-last/pipeline/pair/parse-result';
import { parseResult } from '@cast-to-last/pipeline/pair/parse-result';
import { readJsonFile, readNamedFile } from './read-input.js';

/** What `process` left in a folder. */
export interface ResultFolder {
  readonly result: ComparedResult;
  /** Bytes of cleaned.stl. */
  readonly cleaned: Uint8Array;
}

/** Throws WrongCall where the folder lacks a file, CastError `bad-report` where its report cannot be used. */
export async function readResultFolder(folder: string): Promise<ResultFolder> {
  const path = join(folder, 'report.json');
  const result = parseResult(await readJsonFile(path, 'The report', 'bad-report'), `The report ${path}`);
  return { result, cleaned: await readNamedFile(join(folder, 'cleaned.stl'), 'The cleaned cast') };
}

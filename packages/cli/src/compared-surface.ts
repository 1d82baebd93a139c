import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { ComparedCast } from '@cast-to-last/pipeline/pair/compared-cast';
import type { ComparedScan } from '@cast-to-last/pipeline/pair/comparison-report';
import type { ComparedSurface } from '@cast-to-last/pipeline/pair/parse-result';
import type { LengthUnit } from '@cast-to-last/pipeline/records';
import type { Side } from '@cast-to-last/foot/side';
import { WrongCall } from './wrong-call.js';
import { readNamedFile } from './read-input.js';
import { readResultFolder } from './result-folder.js';

export interface ComparedOptions {
  readonly of: ComparedSurface;
  /** Of mesh files. */
  readonly side?: Side;
  readonly unit: LengthUnit | 'auto';
}

/** One side of a comparison before it has a name: names depend on both. */
export interface NamedLater {
  readonly side: Side;
  readonly scan: ComparedScan;
  cast(name: string): ComparedCast;
}

/**
 * What a call names to be compared: a folder of results, or a mesh file.
 *
 * @throws WrongCall where it cannot be read, CastError where it cannot be used
 */
export async function readCompared(path: string, { of, side, unit }: ComparedOptions): Promise<NamedLater> {
  const isFolder = await stat(path).then((found) => found.isDirectory(), () => true);
  if (isFolder) {
    const { result, surface } = await readResultFolder(path, of);
    const { comparedCast } = await import('@cast-to-last/pipeline/pair/parse-result');
    const { comparedScan } = await import('@cast-to-last/pipeline/pair/comparison-report');
    return { side: result.scan.side, scan: comparedScan(result, of), cast: (name) => comparedCast(name, result, surface, of) };
  }
  if (side === undefined) throw new WrongCall(`${path} is a mesh file: say with --side which foot it is.`);
  const bytes = await readNamedFile(path, 'The surface');
  const { comparedFile } = await import('@cast-to-last/pipeline/pair/compared-file');
  const { cast, scan } = comparedFile('', bytes, { fileName: basename(path), unit, side });
  return { side, scan, cast: (name) => ({ ...cast, name }) };
}

import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { writeThreeMf } from '@cast-to-last/geometry/formats/threemf';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CleanedSurfaces } from './cleaned-surfaces.js';
import { reviewGlb } from './review-glb.js';
import { fullFiles, lightFileOf, lightLevels } from './view-files.js';

export interface SurfaceFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * Every file that holds surfaces, in no order. Those that need no last are made while `last` is waited for, and last.3mf is
 * compressed beside the thread.
 */
export async function surfaceFiles(surfaces: CleanedSurfaces, last: Mesh | Promise<Mesh>): Promise<SurfaceFile[]> {
  const files = await Promise.all([cleanedFiles(surfaces), lastThreeMf(last), lastFiles(last), lightOfAll(surfaces, last)]);
  return files.flat();
}

async function cleanedFiles({ scan, cleaned, change }: CleanedSurfaces): Promise<SurfaceFile[]> {
  return [
    { name: 'cleaned.stl', bytes: writeStl(cleaned, { title: 'cleaned cast, foot frame' }) },
    { name: 'review.glb', bytes: reviewGlb(scan, cleaned, change) },
    ...(await fullFiles({ scan, cleaned, change })),
  ];
}

async function lastThreeMf(last: Mesh | Promise<Mesh>): Promise<SurfaceFile> {
  return { name: 'last.3mf', bytes: await writeThreeMf(await last, { title: 'last' }) };
}

async function lastFiles(last: Mesh | Promise<Mesh>): Promise<SurfaceFile[]> {
  const mesh = await last;
  return [{ name: 'last.stl', bytes: writeStl(mesh, { title: 'last, foot frame' }) }, ...(await fullFiles({ last: mesh }))];
}

async function lightOfAll(surfaces: CleanedSurfaces, last: Mesh | Promise<Mesh>): Promise<SurfaceFile> {
  const levels = await lightLevels(surfaces);
  return lightFileOf([...levels, ...(await lightLevels({ last: await last }))]);
}

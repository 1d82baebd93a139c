import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { lighten } from '@cast-to-last/geometry/remeshing/lighten';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { madeOnce } from './made-once.js';

/** Less than half of what a sample has. */
const TRIANGLES = 8000;

/** Path of a binary STL: the scan of a sample (its name, as 2044-left) with fewer triangles, for tests in which neither size nor accuracy is the point. */
export async function lighterScan(sample: string): Promise<string> {
  const folder = await madeOnce(`lighter-${sample}`, async (made) => {
    const { mesh } = weld(readMesh(readFileSync(new URL(`../../sample-meshes/${sample}.stl`, import.meta.url))).mesh);
    writeFileSync(join(made, 'scan.stl'), writeStl((await lighten(mesh, TRIANGLES)).mesh));
  });
  return join(folder, 'scan.stl');
}

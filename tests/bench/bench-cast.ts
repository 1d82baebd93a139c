import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom } from '../phantoms/make-phantom.js';

/** The cast that is timed: everything that a usual scan has, in every size the same. */
const SEED = 8;
const OPTIONS = {
  side: 'left', family: 'bones', oddities: [], top: 'ragged', unit: 'mm', dents: 6, bumps: 2, ridges: 3, seam: true, noise: 0.03, holes: 3, debris: true, missingSole: false,
} as const;

export interface BenchCast {
  readonly path: string;
  readonly side: 'left' | 'right';
  readonly triangles: number;
}

/** A phantom's scan of about so many triangles as an STL file in the system's temporary folder, made where it is not there yet. */
export function benchCast(triangles: number): BenchCast {
  const folder = join(tmpdir(), 'cast-to-last-bench');
  mkdirSync(folder, { recursive: true });
  const path = join(folder, `${triangles}-${generatorHash()}.stl`);
  if (!existsSync(path)) {
    process.stderr.write(`making a cast of ${triangles} triangles\n`);
    writeFileSync(`${path}.part`, writeStl(makePhantom(SEED, { ...OPTIONS, triangles }).scan));
    renameSync(`${path}.part`, path);
  }
  return { path, side: OPTIONS.side, triangles: readFileSync(path).readUInt32LE(80) };
}

/** A cast made by another state of the generator is another cast. */
function generatorHash(): string {
  const folder = new URL('../phantoms/', import.meta.url);
  const hash = createHash('sha256').update(JSON.stringify([SEED, OPTIONS]));
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
    if (name.endsWith('.ts') && !name.endsWith('.test.ts')) hash.update(name).update(readFileSync(new URL(name, folder)));
  }
  return hash.digest('hex').slice(0, 12);
}

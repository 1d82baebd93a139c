import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What admesh says of a file. */
export interface AdmeshVerdict {
  readonly parts: number;
  readonly volume: number;
  /** Of every kind but normals. */
  readonly faults: number;
  /** Normals that it found otherwise than written: it works them out in single precision, so slivers may differ. */
  readonly normals: number;
  /** Any figure by its label. */
  said(label: string): number;
}

const FAULTS = ['Total disconnected facets', 'Degenerate facets', 'Edges fixed', 'Facets removed', 'Facets added', 'Facets reversed', 'Backwards edges'];

/** Asks admesh 0.98 (Debian), an STL checker that reads with code of its own and shares nothing with this program. */
export function admesh(stl: Uint8Array): AdmeshVerdict {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-admesh-'));
  try {
    const path = join(folder, 'mesh.stl');
    writeFileSync(path, stl);
    const { error, stdout } = spawnSync('admesh', [path], { encoding: 'utf8' });
    if (error !== undefined) throw error;
    if (!stdout.includes('Binary STL file')) throw new Error(`admesh did not take it for binary STL: ${stdout}`);
    const said = (label: string): number => Number(new RegExp(`${label}\\s*[:=]\\s*([-\\d.]+)`).exec(stdout)?.[1]);
    return { parts: said('Number of parts'), volume: said('Volume'), faults: FAULTS.reduce((sum, label) => sum + said(label), 0), normals: said('Normals fixed'), said };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

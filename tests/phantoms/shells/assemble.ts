import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { keepTriangles } from '../surface/build-surface.js';
import { joinMeshes } from '../surface/mirror-mesh.js';
import { borders, joinBorders, zip } from './close-rim.js';
import type { Delivered } from './shell-options.js';

/** Which side of the shell a vertex lies on. */
export const OUTER = 0;
export const INNER = 1;
export const RIM = 2;

/** The shell as it was scanned. */
export interface Assembled {
  readonly mesh: Mesh;
  /** OUTER, INNER or RIM, one a vertex. */
  readonly sheetOf: Uint8Array;
}

export interface Assembly {
  readonly delivered: Delivered;
  readonly top: 'open' | 'rim' | 'capped';
  readonly joined: boolean;
  /** About how far apart vertices lie on the rim, mm. */
  readonly pitch: number;
}

export const turnedRound = (mesh: Mesh): Mesh => {
  const triangles = mesh.triangles.slice();
  for (let t = 0; t < triangles.length; t += 3) [triangles[t + 1], triangles[t + 2]] = [triangles[t + 2], triangles[t + 1]];
  return { positions: mesh.positions, triangles };
};

const lengthOf = (positions: Float64Array, loop: readonly number[]): number =>
  loop.reduce((sum, v, i) => {
    const [a, b] = [3 * v, 3 * loop[(i + 1) % loop.length]];
    return sum + Math.hypot(positions[a] - positions[b], positions[a + 1] - positions[b + 1], positions[a + 2] - positions[b + 2]);
  }, 0);

const middleOf = (positions: Float64Array, loop: readonly number[]): number[] => [0, 1, 2].map((k) => loop.reduce((sum, v) => sum + positions[3 * v + k], 0) / loop.length);

/** `outer` and `inner` both face outward here; on the two-sided shell and where it was scanned the inside comes to face into the hollow. */
export function assemble(outer: Mesh | null, inner: Mesh, { delivered, top, joined, pitch }: Assembly): Assembled {
  if (delivered === 'positive') return { mesh: inner, sheetOf: new Uint8Array(inner.positions.length / 3).fill(INNER) };
  const hollow = turnedRound(inner);
  if (delivered === 'inside' && (outer === null || top === 'open')) return { mesh: hollow, sheetOf: new Uint8Array(inner.positions.length / 3).fill(INNER) };
  if (outer === null) throw new Error('an outside scan needs an outer sheet');
  if (delivered === 'outside' && top === 'open') return { mesh: outer, sheetOf: new Uint8Array(outer.positions.length / 3) };
  if (delivered === 'outside' && top === 'capped') return capped(outer, pitch);
  const both = joinMeshes([outer, hollow]);
  const outerVertices = outer.positions.length / 3;
  const outerTriangles = outer.triangles.length / 3;
  const sheets = outerTriangles + hollow.triangles.length / 3;
  const mesh = delivered === 'two-sided' && !joined ? both : joinSheets(both, outerVertices, pitch);
  const sheetOf = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => (v < outerVertices ? OUTER : v < both.positions.length / 3 ? INNER : RIM));
  if (delivered === 'two-sided') return { mesh, sheetOf };
  const kept = keepTriangles(mesh, (t) => t >= sheets || (delivered === 'outside' ? t < outerTriangles : t >= outerTriangles));
  return { mesh: kept.mesh, sheetOf: Uint8Array.from(kept.from, (v) => sheetOf[v]) };
}

/** Each border of the outer sheet joined to the border of the inner one that lies nearest to it. */
function joinSheets(both: Mesh, outerVertices: number, pitch: number): Mesh {
  const loops = borders(both);
  const inner = loops.filter((loop) => loop[0] >= outerVertices);
  let mesh = both;
  for (const loop of loops.filter((l) => l[0] < outerVertices)) {
    const at = middleOf(both.positions, loop);
    const far = inner.map((l) => Math.hypot(...middleOf(both.positions, l).map((c, k) => c - at[k])));
    mesh = joinBorders(mesh, loop, inner[far.indexOf(Math.min(...far))], pitch);
  }
  return mesh;
}

/** The longest border closed by a lid of rings towards its middle, a little sunk or crowned by the scanner's program. */
function capped(sheet: Mesh, pitch: number): Assembled {
  const loops = borders(sheet);
  const loop = loops.reduce((a, b) => (lengthOf(sheet.positions, b) > lengthOf(sheet.positions, a) ? b : a));
  const positions = Array.from(sheet.positions);
  const triangles = Array.from(sheet.triangles);
  const centre = middleOf(sheet.positions, loop);
  const rings = Math.max(2, Math.round(lengthOf(sheet.positions, loop) / (2 * Math.PI) / (2.5 * pitch)));
  let last: readonly number[] = loop;
  for (let r = 1; r < rings; r++) {
    const count = Math.max(6, Math.round((loop.length * (rings - r)) / rings / 2.5));
    const ring = Array.from({ length: count }, (_, i) => {
      const v = loop[Math.floor((i * loop.length) / count)];
      return positions.push(...[0, 1, 2].map((k) => positions[3 * v + k] + (r / rings) * (centre[k] - positions[3 * v + k]))) / 3 - 1;
    });
    triangles.push(...zip(positions, last, ring, true));
    last = ring;
  }
  const middle = positions.push(...centre) / 3 - 1;
  last.forEach((v, i) => triangles.push(v, middle, last[(i + 1) % last.length]));
  const sheetOf = new Uint8Array(positions.length / 3).fill(RIM).fill(OUTER, 0, sheet.positions.length / 3);
  return { mesh: { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) }, sheetOf };
}

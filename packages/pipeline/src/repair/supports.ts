import { connectedPieces } from '@cast-to-last/geometry/mesh/components';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { diagonal } from '@cast-to-last/geometry/mesh/mesh';
import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { dot } from '@cast-to-last/geometry/numerics/vectors';
import type { Facets } from './facets.js';
import { facetsOf } from './facets.js';
import type { Face } from './flat-faces.js';
import { flatFaces } from './flat-faces.js';

/**
 * Tells what a cast stands on by its sections. Behind the ends of pegs and blocks, which lie in one plane, these stay the same for
 * a while and then jump to those of the sole; above a plate they fall. Those of a leg or of toes grow from their end on. Lengths in
 * mm on a cast with this diagonal, smaller and larger ones in proportion.
 */
export const SUPPORTS = {
  diagonal: 330,
  /** Least share of the surface in the ends. */
  leastShare: 0.002,
  /** From this depth on the section stays within this share of what it is there, for at least this far. */
  from: 3,
  even: 0.25,
  least: 8,
  /** Then it grows to this many times within this depth. */
  jump: 2,
  within: 6,
  /** The longest looked for. */
  longest: 90,
  /** There are at least so many: one alone may be the rod that the plaster was poured round. */
  count: 2,
  /** What faces otherwise than the ends, by a cosine below this, is theirs, this far along past the jump: walls, and ledges beside the cast. */
  wall: 0.7,
  past: 8,
  /** Above a plate, which is at most so thick, sections are at most this share of what they were in it. */
  thickest: 15,
  fall: 0.7,
} as const;

export interface Supports {
  /** One byte a triangle: 1 on the cast, 0 on what it stands on. */
  readonly keep: Uint8Array;
  /** Whether a loop of vertices is an edge that they leave. */
  isEdge(loop: Uint32Array, positions: Float64Array): boolean;
}

/**
 * Finds pegs, blocks or a plate that a cast stands on; null where it stands on none.
 *
 * @param mesh facing outward, mm
 */
export function findSupports(mesh: Mesh, twin: Int32Array): Supports | null {
  const unit = diagonal(mesh.positions) / SUPPORTS.diagonal;
  const facets = facetsOf(mesh);
  for (const face of flatFaces(facets, SUPPORTS.leastShare)) {
    const sections = sectionsBelow(face, facets, unit);
    const top = whereTheyFall(sections);
    if (top !== null) return { keep: deeperThan(top, face, facets, unit), isEdge: edgeAbove(face, (top + SUPPORTS.past) * unit) };
    const jump = whereTheyJump(sections);
    if (jump === null) continue;
    const below = deeperThan(jump, face, facets, unit).map((deeper) => 1 - deeper);
    const { piece } = connectedPieces(twin, below);
    if (new Set(face.inside.map((f) => piece[f])).size < SUPPORTS.count) continue;
    return { keep: keepBesides(facets, below, face.normal, twin, unit), isEdge: edgeAbove(face, (jump + SUPPORTS.past) * unit) };
  }
  return null;
}

/** Tells loops that lie no deeper below a face than this in the mean, mm. */
function edgeAbove({ normal, height }: Face, deepest: number): Supports['isEdge'] {
  return (loop, p) => {
    let along = 0;
    for (const v of loop) along += dot(normal, p.subarray(3 * v, 3 * v + 3)) / loop.length;
    return height - along < deepest;
  };
}

/** One byte a triangle: 1 where its middle lies at least so many units deep. */
function deeperThan(depth: number, { normal, height }: Face, { middles }: Facets, unit: number): Uint8Array {
  const deeper = new Uint8Array(middles.length / 3);
  for (let f = 0; f < deeper.length; f++) if ((height - dot(normal, middles.subarray(3 * f, 3 * f + 3))) / unit >= depth) deeper[f] = 1;
  return deeper;
}

/** The area of the section at each whole depth below a face: what lies above it and faces out covers it, less what faces back. */
function sectionsBelow({ normal, height }: Face, { middles, normals, areas }: Facets, unit: number): Float64Array {
  const sections = new Float64Array(SUPPORTS.longest + SUPPORTS.within + 2);
  const x = normal[0];
  const y = normal[1];
  const z = normal[2];
  const last = sections.length - 1;
  for (let f = 0, k = 0; f < areas.length; f++, k += 3) {
    const depth = (height - (x * middles[k] + y * middles[k + 1] + z * middles[k + 2])) / unit;
    if (depth >= last) continue;
    sections[depth > 0 ? Math.ceil(depth) : 0] += areas[f] * (x * normals[k] + y * normals[k + 1] + z * normals[k + 2]);
  }
  for (let h = 1; h < sections.length; h++) sections[h] += sections[h - 1];
  return sections;
}

/** The depth at which sections that stayed the same jump; null where they do not. */
function whereTheyJump(sections: Float64Array): number | null {
  const d = SUPPORTS;
  const even = sections[d.from];
  let end: number = d.from;
  while (end <= d.longest && Math.abs(sections[end] - even) <= d.even * even) end++;
  return end <= d.longest && end - d.from >= d.least && sections[end + d.within] >= d.jump * even ? end - 1 : null;
}

/** The depth at which sections are least above the plate below; null where there is none. */
function whereTheyFall(sections: Float64Array): number | null {
  let most = 0;
  let least = 0;
  for (let h = 1; h <= SUPPORTS.thickest; h++) {
    if (sections[h] > sections[most]) most = h;
    if (h === 1 || sections[h] < sections[least] || least < most) least = h;
  }
  return least > most && sections[least] <= SUPPORTS.fall * sections[most] ? least + 1 : null;
}

/** Everything but what is `below`, and the walls that run on from there. */
function keepBesides({ middles: m, normals }: Facets, below: Uint8Array, normal: readonly number[], twin: Int32Array, unit: number): Uint8Array {
  const keep = below.map((inside) => 1 - inside);
  let front = Array.from(below.keys()).filter((f) => below[f] === 1);
  const way = new Float64Array(below.length);
  while (front.length > 0) {
    const from = front;
    front = [];
    for (const f of from) {
      for (let h = 3 * f; h < 3 * f + 3; h++) {
        const other = twin[h] < 0 ? f : (twin[h] / 3) | 0;
        if (keep[other] === 0 || dot(normal, normals.subarray(3 * other, 3 * other + 3)) > SUPPORTS.wall) continue;
        way[other] = way[f] + length3(m[3 * f] - m[3 * other], m[3 * f + 1] - m[3 * other + 1], m[3 * f + 2] - m[3 * other + 2]);
        if (below[f] === 0 && way[other] > SUPPORTS.past * unit) continue;
        keep[other] = 0;
        front.push(other);
      }
    }
  }
  return keep;
}

import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { next, opposites } from '../surface/halfedges.js';
import { zip } from './close-rim.js';
import { cutSheet } from './cut-sheet.js';
import type { NearSkin } from './near-skin.js';
import type { ByCut, Sections } from './sections.js';
import type { Sheet } from './sheet.js';
import type { Wall } from './wall.js';

/** Which flap a vertex belongs to: 1 medial, −1 lateral. */
export type Flap = 1 | -1;

/** A sheet cut open from behind the toes to its top edge. */
export interface OpenSheet {
  readonly sheet: Sheet;
  /** Place of each vertex by the cut, 3 numbers: along, turn, across; NaN ahead of the sections. */
  readonly byCut: Float64Array;
  readonly flap: Int8Array;
  /** Vertices along the medial and the lateral edge of the cut, in pairs, from its end at the toes (one vertex) to the top. */
  readonly medial: readonly number[];
  readonly lateral: readonly number[];
  /** Whether the medial flap's triangles run along the edge from the toes to the top. */
  readonly medialRunsUp: boolean;
}

/** The band beside the cut in which edges may be split, mm. */
const BAND = 25;
/** The line is drawn so far ahead of where the cut begins, mm. */
const AHEAD = 15;

/** Places of points of the skin by the cut, 3 numbers each. */
export function placesByCut(foot: Float64Array, sections: Sections): Float64Array {
  const out = new Float64Array(foot.length).fill(NaN);
  const by: ByCut = { along: 0, turn: 0, across: 0 };
  for (let i = 0; i < foot.length; i += 3) {
    if (sections.locate(foot[i], foot[i + 1], foot[i + 2], by)) out.set([by.along, by.turn, by.across], i);
  }
  return out;
}

/** Cuts a sheet open where `across` is 0, from `start` mm along the spine to its border. */
export function openAlongCut(whole: Sheet, sections: Sections, start: number, skin: NearSkin, wall: Wall | null): OpenSheet {
  const places = placesByCut(whole.foot, sections);
  const level = Float64Array.from({ length: whole.straight.length }, (_, v) => {
    const [along, across] = [places[3 * v], places[3 * v + 2]];
    return along > start - AHEAD && Math.abs(across) < BAND ? across : NaN;
  });
  const { sheet, side } = cutSheet(whole, level, skin, wall);
  const byCut = new Float64Array(3 * side.length);
  byCut.set(places);
  byCut.set(placesByCut(sheet.foot.subarray(places.length), sections), places.length);
  const { triangles } = sheet;
  const flapOf = (t: number): Flap => ([0, 1, 2].some((k) => side[triangles[3 * t + k]] === -1) ? -1 : 1);
  const opposite = opposites(triangles, side.length);
  const onward = new Map<number, number>();
  const reached = new Set<number>();
  for (let h = 0; h < triangles.length; h++) {
    const [a, b, g] = [triangles[h], triangles[next(h)], opposite[h]];
    if (g < 0 || side[a] !== 0 || side[b] !== 0 || byCut[3 * a] < start || byCut[3 * b] < start) continue;
    if (flapOf(Math.floor(h / 3)) !== 1 || flapOf(Math.floor(g / 3)) !== -1) continue;
    onward.set(a, b);
    reached.add(b);
  }
  const chains = [...onward.keys()].filter((v) => !reached.has(v)).map((from) => {
    const chain = [from];
    for (let v = onward.get(from); v !== undefined; v = onward.get(v)) chain.push(v);
    return chain;
  });
  if (chains.length === 0) throw new Error('the cut does not run along the shell');
  const chain = chains.reduce((a, b) => (b.length > a.length ? b : a));
  const medialRunsUp = byCut[3 * chain[0]] < byCut[3 * chain[chain.length - 1]];
  const medial = medialRunsUp ? chain : [...chain].reverse();

  const n = side.length;
  const copyOf = new Map(medial.slice(1).map((v, i) => [v, n + i]));
  const doubled = (values: Float64Array): Float64Array => {
    const out = new Float64Array(3 * (n + copyOf.size));
    out.set(values.subarray(0, 3 * n));
    for (const [v, copy] of copyOf) out.set(values.subarray(3 * v, 3 * v + 3), 3 * copy);
    return out;
  };
  const split = triangles.slice();
  for (let h = 0; h < split.length; h++) {
    const copy = copyOf.get(split[h]);
    if (copy !== undefined && flapOf(Math.floor(h / 3)) === -1) split[h] = copy;
  }
  const straight = new Uint8Array(n + copyOf.size);
  straight.set(sheet.straight);
  for (const [v, copy] of copyOf) straight[copy] = sheet.straight[v];
  const allByCut = doubled(byCut);
  const flap = Int8Array.from({ length: n + copyOf.size }, (_, v) => (v >= n ? -1 : copyOf.has(v) ? 1 : allByCut[3 * v + 1] < 0 ? -1 : 1));
  return {
    sheet: { positions: doubled(sheet.positions), triangles: split, foot: doubled(sheet.foot), normals: doubled(sheet.normals), straight },
    byCut: allByCut, flap, medial, lateral: medial.map((v) => copyOf.get(v) ?? v), medialRunsUp,
  };
}

/** Height over the straight line between the edges at `share` of the way from the medial to the lateral one, `width` mm apart. */
export type StripShape = (along: number, share: number, width: number) => number;

/**
 * Closes the cut of a sheet whose vertices were moved to `positions`: a strip in rows about `pitch` mm apart where the edges
 * stand apart, joined where they meet to within `join` mm. `normals` are the moved vertices' directions outward.
 */
export function closeCut(open: OpenSheet, positions: Float64Array, normals: Float64Array, shape: StripShape, pitch: number, join: number): Mesh {
  const points = Array.from(positions);
  const triangles = Array.from(open.sheet.triangles);
  const joined = new Map<number, number>();
  const rungs = open.medial.map((m, i) => {
    const l = open.lateral[i];
    if (l === m) return [m];
    const [p, q] = [m, l].map((v) => [points[3 * v], points[3 * v + 1], points[3 * v + 2]]);
    const width = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
    if (width < join) {
      joined.set(l, m);
      for (let k = 0; k < 3; k++) points[3 * m + k] = (p[k] + q[k]) / 2;
      return [m];
    }
    const rungCount = Math.max(1, Math.round(width / pitch));
    const rung = [m];
    for (let r = 1; r < rungCount; r++) {
      // Not in even rows: a scan's triangles lie anyhow.
      const share = (r + 0.25 * Math.sin(12.9 * i + 78.2 * r)) / rungCount;
      const h = shape(open.byCut[3 * m], share, width);
      rung.push(points.push(...p.map((c, k) => c + share * (q[k] - c) + h * ((1 - share) * normals[3 * m + k] + share * normals[3 * l + k]))) / 3 - 1);
    }
    rung.push(l);
    return rung;
  });
  for (let i = 0; i < triangles.length; i++) triangles[i] = joined.get(triangles[i]) ?? triangles[i];
  for (let i = 1; i < rungs.length; i++) {
    const strip = zip(points, rungs[i - 1], rungs[i], false);
    triangles.push(...(open.medialRunsUp ? strip.reverse() : strip));
  }
  return { positions: Float64Array.from(points), triangles: Uint32Array.from(triangles) };
}

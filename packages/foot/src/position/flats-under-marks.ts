import { contactPlane } from './contact-plane.js';
import { joinedPatches } from '@cast-to-last/geometry/mesh/joined-patches';
import { soleFlags } from './sole-part.js';
import type { StandingCast } from './standing-cast.js';
import { surfaceAtVertices } from './standing-cast.js';

/** Chosen by the size of heel seats, then tried on generated casts of the tuning range. */
export const FLATS = {
  /** What lies this near to a patch's plane lies on it, mm. */
  within: 0.3,
  /** Surface that must lie on it, mm² at a foot length, mm, and its share of the patch: the top of a bump and the border of a dent have less. */
  area: 250,
  footLength: 260,
  share: 0.4,
} as const;

/** A cast, and where marks still keep its surface from being leaned on. */
export interface FlatsRestored {
  readonly cast: StandingCast;
  /** One byte a vertex: 1 where a mark lies and no flat. */
  readonly marked: Uint8Array;
}

/**
 * The cast with the wide flats of its sole as they were scanned where they were taken for marks: a round heel that bore
 * weight on a plate has a flat with an edge round it, which smoothing rounds out as it does a dent. Nothing that hands or
 * bandages leave is flat over so wide a part of itself.
 *
 * @param scanned where each vertex lay before marks were smoothed, foot frame, mm; length 3 × vertices
 * @param marked one byte a vertex: 1 where a mark lies
 */
export function flatsUnderMarks(cast: StandingCast, scanned: Float64Array, marked: Uint8Array): FlatsRestored {
  const before: StandingCast = { ...cast, mesh: { positions: scanned, triangles: cast.mesh.triangles } };
  const asScanned: StandingCast = { ...before, ...surfaceAtVertices(before.mesh) };
  const least = FLATS.area * (cast.landmarks.footLength / FLATS.footLength) ** 2;
  const positions = cast.mesh.positions.slice();
  const left = marked.slice();
  let restored = 0;
  const isSole = soleFlags(asScanned);
  for (const patch of joinedPatches(cast.mesh, marked.map((mark, v) => mark & isSole[v]))) {
    let area = 0;
    for (const v of patch) area += asScanned.areas[v];
    if (area < least) continue;
    const flat = contactPlane(asScanned, Uint32Array.from(patch), FLATS.within);
    if (flat === null || flat.area < Math.max(least, FLATS.share * area)) continue;
    for (const v of flat.touching) {
      positions.set(scanned.subarray(3 * v, 3 * v + 3), 3 * v);
      left[v] = 0;
      restored++;
    }
  }
  if (restored === 0) return { cast, marked };
  const mesh = { positions, triangles: cast.mesh.triangles };
  return { cast: { ...cast, mesh, ...surfaceAtVertices(mesh) }, marked: left };
}

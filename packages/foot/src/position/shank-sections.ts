import { section } from '@cast-to-last/geometry/sections/section';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import type { StandingCast } from './standing-cast.js';

export const SHANK = {
  /** Level sections are cut this far apart, mm. */
  step: 2,
  /** The uppermost one lies at least this far under the cast's edge, mm. */
  underEdge: 3,
  /** The chord across the Achilles tendon lies this far ahead of the rearmost point, mm. */
  chordAhead: 20,
} as const;

/** A level section of the shank, mm. */
export interface ShankSection {
  readonly z: number;
  /** Middle of the enclosed area. */
  readonly x: number;
  readonly y: number;
  /** Middle in y of the chord across the Achilles tendon; null where there is none or it ends on surface not to be leaned on. */
  readonly achilles: number | null;
  /** x of that chord. */
  readonly chordX: number;
  /** Share of the outline that is not to be leaned on. */
  readonly unsure: number;
}

/** Level sections every 2 mm from `from` up to where the cast is whole; heights where the section is open are left out. */
export function shankSections(cast: StandingCast, from: number): ShankSection[] {
  const out: ShankSection[] = [];
  for (let z = from; z <= cast.wholeTo - SHANK.underEdge; z += SHANK.step) {
    const found = shankSection(cast, z);
    if (found !== null) out.push(found);
  }
  return out;
}

/** Of the largest closed curve at height z; null where none is closed. */
function shankSection({ mesh, twin, unsure }: StandingCast, z: number): ShankSection | null {
  let largest: SectionCurve | null = null;
  let area = 0;
  let x = 0;
  let y = 0;
  for (const curve of section(mesh, twin, [0, 0, 1], z)) {
    if (!curve.closed) continue;
    const middle = areaCentroid(curve.points);
    if (middle.area <= area) continue;
    area = middle.area;
    x = middle.x;
    y = middle.y;
    largest = curve;
  }
  if (largest === null) return null;
  const isUnsure = (f: number): boolean => unsure[mesh.triangles[3 * f]] + unsure[mesh.triangles[3 * f + 1]] + unsure[mesh.triangles[3 * f + 2]] >= 2;
  const { points: p, triangles } = largest;
  let rear = Infinity;
  for (let i = 0; i < p.length; i += 3) rear = Math.min(rear, p[i]);
  let made = 0;
  for (const f of triangles) if (isUnsure(f)) made++;
  const chordX = rear + SHANK.chordAhead;
  const chord = chordAt(largest, chordX);
  return { z, x, y, chordX, unsure: made / triangles.length, achilles: chord === null || chord.ends.some(isUnsure) ? null : chord.middle };
}

/** Area and its middle of a closed level polygon (Gauss). */
function areaCentroid(p: Float64Array): { area: number; x: number; y: number } {
  let twice = 0;
  let mx = 0;
  let my = 0;
  const x0 = p[0];
  const y0 = p[1];
  for (let i = 0; i < p.length; i += 3) {
    const j = i + 3 === p.length ? 0 : i + 3;
    const ax = p[i] - x0;
    const ay = p[i + 1] - y0;
    const bx = p[j] - x0;
    const by = p[j + 1] - y0;
    const cross = ax * by - bx * ay;
    twice += cross;
    mx += (ax + bx) * cross;
    my += (ay + by) * cross;
  }
  return twice === 0 ? { area: 0, x: x0, y: y0 } : { area: Math.abs(twice) / 2, x: x0 + mx / (3 * twice), y: y0 + my / (3 * twice) };
}

/** Where the line x = `at` crosses the curve outermost on both sides: middle in y, and the triangles there. */
function chordAt({ points: p, triangles }: SectionCurve, at: number): { middle: number; ends: readonly [number, number] } | null {
  let low = Infinity;
  let high = -Infinity;
  let lowIn = -1;
  let highIn = -1;
  for (let i = 0; i < triangles.length; i++) {
    const a = 3 * i;
    const b = 3 * ((i + 1) % triangles.length);
    if (p[a] < at === p[b] < at) continue;
    const y = p[a + 1] + ((at - p[a]) / (p[b] - p[a])) * (p[b + 1] - p[a + 1]);
    if (y < low) {
      low = y;
      lowIn = triangles[i];
    }
    if (y > high) {
      high = y;
      highIn = triangles[i];
    }
  }
  return high > low ? { middle: (low + high) / 2, ends: [lowIn, highIn] } : null;
}

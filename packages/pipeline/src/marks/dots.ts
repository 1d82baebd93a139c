import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { ACCEPT, isAgreed, isMarkSized } from './accept.js';
import type { Extent, ExtentFinder } from './extent.js';
import type { ExtentShape } from './extent-shape.js';
import { extentShape } from './extent-shape.js';
import type { InspectionSurface } from './inspection-surface.js';
import type { Place } from './places.js';
import { findPlaces } from './places.js';

/** A dent or bump. */
export interface Dot extends ExtentShape {
  readonly vertices: Uint32Array;
  /** Signed extreme height, mm. */
  readonly depth: number;
  /** How far beyond the vertices the mark still bends the surface (its rim), mm. */
  readonly margin: number;
}

/** Margin of a mark that could not be measured against its surroundings, mm. */
const USUAL_MARGIN = 4;

/**
 * Dents and bumps: places where the learned heights stand off, the highest first, each measured on ground that the others
 * do not steer.
 *
 * @param learned a height a vertex, mm
 */
export function findDots(surface: InspectionSurface, finder: ExtentFinder, learned: Float32Array, leastDepth: number): Dot[] {
  const { masked } = finder;
  const places = findPlaces(surface, learned).filter(({ height }) => Math.abs(height) >= ACCEPT.leastLearned);
  for (const { vertices } of places) for (const v of vertices) masked[v] = 1;
  const accepted: Dot[] = [];
  for (const place of places) {
    for (const v of place.vertices) masked[v] = 0;
    for (const { vertices } of accepted) for (const v of vertices) masked[v] = 1;
    if (masked[place.vertex] === 1) continue;
    const measured = finder.find(place, (rough) => !isAgreed(rough, learned, surface.areas));
    const dot = dotAt(surface, place, measured !== null && isMarkSized(measured, leastDepth) ? measured : null, learned);
    if (!isMarkSized(dot, leastDepth) || accepted.some((mark) => isRimOf(dot, mark))) continue;
    accepted.push(dot);
    for (const v of dot.vertices) masked[v] = 1;
  }
  return accepted.filter((mark, i) => !accepted.slice(i + 1).some((later) => covers(later, mark)));
}

/** All of the place, and of what was measured there; where nothing could be, the learned heights say how deep it is. */
function dotAt(surface: InspectionSurface, place: Place, measured: Extent | null, learned: Float32Array): Dot {
  const vertices = Uint32Array.from(new Set([...place.vertices, ...(measured?.vertices ?? [])]));
  const shape = extentShape(surface, vertices, Float64Array.from(vertices, (v) => learned[v]));
  return { ...shape, vertices, depth: measured?.depth ?? place.height, margin: measured?.margin ?? USUAL_MARGIN };
}

/** Whether a mark was only a part of another, which covers its middle. */
const covers = (whole: Dot, part: Dot): boolean => whole.depth * part.depth > 0 && whole.vertices.includes(part.centreVertex);

/** Whether a mark is the raised or sunken rim of a deeper mark of the other sign beside it. */
function isRimOf(dot: Dot, mark: Dot): boolean {
  if (dot.depth * mark.depth > 0 || Math.abs(dot.depth) > ACCEPT.rimShare * Math.abs(mark.depth)) return false;
  return apart(mark.centre, dot.centre) < (mark.length + dot.width) / 2 + 2;
}

/** Distance between two points, mm. */
const apart = (a: readonly number[], b: readonly number[]): number => length3(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

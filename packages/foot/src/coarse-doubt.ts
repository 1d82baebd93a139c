import type { MeasureId } from './measures.js';

/** Up to this mean length of the edges, mm, facets are as good as the surface. */
const FINE = 2.5;

/** Beyond this length of the edges, mm, a ball point is read from so few vertices that it jumps from one to the next, by so many mm for each mm more. */
const JUMPS = { from: 5, by: 2 } as const;

/**
 * What facets cost, for 95 % of generated casts of the tuning range at 3,000 to 12,000 triangles: mm for each mm² of the edges'
 * squared length where the facets lie inside the surface, for each mm of their length where one vertex more or less decides.
 */
const SQUARED: Partial<Readonly<Record<MeasureId, number>>> = {
  'foot-length': 1 / 25, 'medial-ball-length': 1 / 60, 'lateral-ball-length': 1 / 60, 'foot-breadth': 1 / 40, 'ball-width': 1 / 60, 'ball-girth': 1 / 18, 'waist-girth': 1 / 45, 'instep-girth': 1 / 90, 'long-heel-girth': 1 / 25,
};
const LINEAR: Partial<Readonly<Record<MeasureId, number>>> = { 'toe-height': 0.5, 'short-heel-girth': 0.3 };

/**
 * How far a measure may be off because the surface consists of facets, mm, for 95 %.
 *
 * @param edge mean length of the edges, mm
 */
export function coarseDoubt(id: MeasureId, edge: number): number {
  if (edge <= FINE) return 0;
  return (SQUARED[id] ?? 0) * (edge * edge - FINE * FINE) + (LINEAR[id] ?? 0) * (edge - FINE);
}

/** How far along the foot a ball point may jump between vertices that far apart, mm. */
export const coarseSlide = (edge: number): number => JUMPS.by * Math.max(0, edge - JUMPS.from);

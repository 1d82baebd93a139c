import type { MeasureId } from '@cast-to-last/foot/measures';

/** How far a measure of a cast may lie from that of the clean surface, mm; heights and the angle have no bar. */
export const MEASURE_BARS: { readonly [id in MeasureId]?: number } = {
  'foot-length': 0.5, 'medial-ball-length': 0.5, 'lateral-ball-length': 0.5, 'ball-width': 0.5, 'foot-breadth': 0.5, 'heel-width': 0.5,
  'ball-girth': 1, 'instep-girth': 1, 'waist-girth': 1, 'short-heel-girth': 1, 'long-heel-girth': 1, 'ankle-girth': 1,
};

/** Frame against truth, RMS over the surface, mm. */
export const FRAME_BAR = 0.5;

/** Marks reported where none was planted, a cast. */
export const FALSE_MARKS_BAR = 1;

/** Dents and bumps of at least `leastDepth` mm that must be found, as a share of all. */
export const FOUND_BAR = { leastDepth: 0.8, share: 0.95 } as const;

/** How far a run may lie from the golden numbers: of one machine they are the same, of another the last digits differ. */
export const GOLDEN_TOLERANCES = { lengthMm: 0.05, girthMm: 0.1, angleDeg: 0.05, volumeShare: 1e-4, triangles: 0, marks: 0 } as const;

/** Corners of the half circle at each end of a stroke. */
const ROUND = 6;

/**
 * Outlines that together cover a line drawn with a round pen: one rounded bar for each of its pieces, turning left; a dot for
 * a line of one point.
 *
 * @param points x, y pairs
 */
export function strokeOutlines(points: Float64Array, width: number): Float64Array[] {
  const out: Float64Array[] = [];
  const last = points.length / 2 - 1;
  for (let i = 0; i < Math.max(1, last); i++) {
    const j = Math.min(i + 1, last);
    const ax = points[2 * i];
    const ay = points[2 * i + 1];
    const bx = points[2 * j];
    const by = points[2 * j + 1];
    const direction = Math.atan2(by - ay, bx - ax);
    const outline = new Float64Array(4 * (ROUND + 1));
    for (let k = 0; k <= ROUND; k++) {
      const angle = direction - Math.PI / 2 + (Math.PI * k) / ROUND;
      const x = (width / 2) * Math.cos(angle);
      const y = (width / 2) * Math.sin(angle);
      outline.set([bx + x, by + y], 2 * k);
      outline.set([ax - x, ay - y], 2 * (ROUND + 1 + k));
    }
    out.push(outline);
  }
  return out;
}

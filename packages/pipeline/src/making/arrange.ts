/** Where a piece's box lies: which plate, and its corner there, mm. */
export interface Spot {
  /** From 0. */
  readonly plate: number;
  readonly x: number;
  readonly y: number;
}

/**
 * Puts boxes on plates in rows, deepest first, with a gap between them and to the edge.
 *
 * @param sizes width and depth of each box, mm; each fits a plate
 */
export function arrange(sizes: readonly (readonly [number, number])[], bed: readonly [number, number], gap: number): Spot[] {
  const spots: Spot[] = Array.from(sizes, () => ({ plate: 0, x: 0, y: 0 }));
  const order = sizes.map((_, i) => i).sort((a, b) => sizes[b][1] - sizes[a][1] || a - b);
  let plate = 0;
  let x = gap;
  let y = gap;
  let row = 0;
  for (const i of order) {
    const [width, depth] = sizes[i];
    if (x > gap && x + width + gap > bed[0]) {
      x = gap;
      y = y + row + gap;
      row = 0;
    }
    if (y > gap && y + depth + gap > bed[1]) {
      plate++;
      x = gap;
      y = gap;
      row = 0;
    }
    spots[i] = { plate, x, y };
    x += width + gap;
    row = Math.max(row, depth);
  }
  return spots;
}

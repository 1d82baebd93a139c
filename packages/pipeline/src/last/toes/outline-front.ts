/** How far ahead the outline of points, seen from above and with its hollows bridged, reaches at each of the given y, mm. */
export function outlineFront(points: Float64Array, ys: readonly number[]): number[] {
  const order = Array.from({ length: points.length / 3 }, (_, i) => 3 * i).sort((a, b) => points[a + 1] - points[b + 1] || points[a] - points[b]);
  const chain: number[] = [];
  for (const i of order) {
    while (chain.length > 1) {
      const a = chain[chain.length - 2];
      const b = chain[chain.length - 1];
      if ((points[b + 1] - points[a + 1]) * (points[i] - points[a]) - (points[b] - points[a]) * (points[i + 1] - points[a + 1]) < 0) break;
      chain.pop();
    }
    chain.push(i);
  }
  return ys.map((y) => {
    const k = Math.min(Math.max(1, chain.findIndex((i) => points[i + 1] >= y)), chain.length - 1);
    const a = chain[k - 1];
    const b = chain[k];
    const share = (y - points[a + 1]) / (points[b + 1] - points[a + 1] || 1);
    return points[a] + Math.min(1, Math.max(0, share)) * (points[b] - points[a]);
  });
}

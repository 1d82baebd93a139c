/** A plane z = slopeX·x + slopeY·y + height. */
export interface RestPlane {
  readonly slopeX: number;
  readonly slopeY: number;
  readonly height: number;
}

function through(p: Float64Array, a: number, b: number, c: number): RestPlane | null {
  const x1 = p[3 * b] - p[3 * a];
  const y1 = p[3 * b + 1] - p[3 * a + 1];
  const z1 = p[3 * b + 2] - p[3 * a + 2];
  const x2 = p[3 * c] - p[3 * a];
  const y2 = p[3 * c + 1] - p[3 * a + 1];
  const z2 = p[3 * c + 2] - p[3 * a + 2];
  const det = x1 * y2 - x2 * y1;
  if (Math.abs(det) < 1e-9) return null;
  const slopeX = (z1 * y2 - z2 * y1) / det;
  const slopeY = (x1 * z2 - x2 * z1) / det;
  return { slopeX, slopeY, height: p[3 * a + 2] - slopeX * p[3 * a] - slopeY * p[3 * a + 1] };
}

const inside = (p: Float64Array, a: number, b: number, c: number, x: number, y: number): boolean => {
  const side = (i: number, j: number): number => (p[3 * j] - p[3 * i]) * (y - p[3 * i + 1]) - (p[3 * j + 1] - p[3 * i + 1]) * (x - p[3 * i]);
  const [r, s, t] = [side(a, b), side(b, c), side(c, a)];
  return (r >= 0 && s >= 0 && t >= 0) || (r <= 0 && s <= 0 && t <= 0);
};

/**
 * The plane under all `positions` that is highest over (x, y): the facet of the lower convex hull there. Triples of a
 * growing set of points are tried one by one; the set starts with the lowest point of each of 8 sectors about (x, y) and
 * takes in the point that lies deepest under the plane found, until none does.
 */
export function restPlane(positions: Float64Array, x: number, y: number): RestPlane {
  const n = positions.length / 3;
  const lowest = new Int32Array(8).fill(-1);
  for (let v = 0; v < n; v++) {
    const s = Math.floor(((Math.atan2(positions[3 * v + 1] - y, positions[3 * v] - x) + Math.PI) / (2 * Math.PI)) * 8) & 7;
    if (lowest[s] < 0 || positions[3 * v + 2] < positions[3 * lowest[s] + 2]) lowest[s] = v;
  }
  let tried = [...lowest].filter((v) => v >= 0);
  for (let round = 0; round < 500; round++) {
    let best: RestPlane | null = null;
    let holds: number[] = [];
    let bestHeight = -Infinity;
    for (let i = 0; i < tried.length; i++) {
      for (let j = i + 1; j < tried.length; j++) {
        for (let k = j + 1; k < tried.length; k++) {
          if (!inside(positions, tried[i], tried[j], tried[k], x, y)) continue;
          const plane = through(positions, tried[i], tried[j], tried[k]);
          if (!plane) continue;
          const height = plane.slopeX * x + plane.slopeY * y + plane.height;
          if (best && height >= bestHeight) continue;
          best = plane;
          bestHeight = height;
          holds = [tried[i], tried[j], tried[k]];
        }
      }
    }
    if (!best) throw new Error('no plane stands under the point');
    let deepest = -1;
    let depth = 1e-9;
    for (let v = 0; v < n; v++) {
      const under = best.slopeX * positions[3 * v] + best.slopeY * positions[3 * v + 1] + best.height - positions[3 * v + 2];
      if (under > depth) {
        depth = under;
        deepest = v;
      }
    }
    if (deepest < 0) return best;
    // Points far above the plane cannot hold a lower facet again soon; keep the set small.
    if (tried.length > 24) tried = holds.slice();
    tried.push(deepest);
  }
  throw new Error('the rest plane did not settle');
}

/** One thing that tells left from right: positive where +Y is the medial side. In tolerances: 1 is a clear sign. */
export interface SideSign {
  readonly name: 'toe tip' | 'ball heads' | 'outer border' | 'arch' | 'top of the forefoot';
  readonly value: number;
}

export interface SideEvidence {
  readonly signs: readonly SideSign[];
  /** Weighted mean of the signs, each cut off at ±1: positive where +Y is medial (a right foot). */
  readonly verdict: number;
}

/** What one clear sign is, as a fraction of foot length, and its weight. Set on generated feet of both sides and checked on others. */
const CLEAR = {
  'toe tip': [0.03, 1.5],
  'ball heads': [0.06, 1],
  'outer border': [0.05, 1],
  arch: [0.02, 1],
  'top of the forefoot': [0.03, 1],
} as const;

/**
 * Which side of a foot is medial, from shape alone.
 *
 * @param p positions in a foot frame (of either side)
 */
export function sideEvidence(p: Float64Array, footLength: number): SideEvidence {
  const fl = footLength;
  const cells = 12;
  const toes = { sum: 0, count: 0 };
  const reach = { left: -Infinity, leftAt: 0, right: Infinity, rightAt: 0 };
  const borderLeft = new Float64Array(cells).fill(-Infinity);
  const borderRight = new Float64Array(cells).fill(Infinity);
  const ridge = new Float64Array(cells).fill(-Infinity);
  const ridgeAt = new Float64Array(cells);
  const breadthLeft = new Float64Array(cells).fill(-Infinity);
  const breadthRight = new Float64Array(cells).fill(Infinity);
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i] / fl;
    const y = p[i + 1] / fl;
    const z = p[i + 2] / fl;
    if (x > 0.94) {
      toes.sum += y;
      toes.count++;
    }
    if (x > 0.55 && x < 0.85) {
      if (y > reach.left) {
        reach.left = y;
        reach.leftAt = x;
      }
      if (y < reach.right) {
        reach.right = y;
        reach.rightAt = x;
      }
    }
    if (x > 0.35 && x < 0.6 && z < 0.12) {
      const c = cellOf(x, 0.35, 0.6, cells);
      borderLeft[c] = Math.max(borderLeft[c], y);
      borderRight[c] = Math.min(borderRight[c], y);
    }
    if (x > 0.58 && x < 0.82) {
      const c = cellOf(x, 0.58, 0.82, cells);
      breadthLeft[c] = Math.max(breadthLeft[c], y);
      breadthRight[c] = Math.min(breadthRight[c], y);
      if (z > ridge[c]) [ridge[c], ridgeAt[c]] = [z, y];
    }
  }
  const border = meanOf(cells, (c) => -(borderLeft[c] + borderRight[c]) / 2);
  const dorsal = meanOf(cells, (c) => ridgeAt[c] - (breadthLeft[c] + breadthRight[c]) / 2);
  const values: Record<SideSign['name'], number> = {
    'toe tip': toes.count === 0 ? 0 : toes.sum / toes.count,
    'ball heads': reach.leftAt - reach.rightAt,
    'outer border': border,
    arch: archTilt(p, fl, borderLeft, borderRight),
    'top of the forefoot': dorsal,
  };
  let sum = 0;
  let weights = 0;
  const signs = (Object.keys(values) as SideSign['name'][]).map((name) => {
    const [clear, weight] = CLEAR[name];
    const value = Number.isFinite(values[name]) ? values[name] / clear : 0;
    sum += weight * Math.max(-1, Math.min(1, value));
    weights += weight;
    return { name, value };
  });
  return { signs, verdict: sum / weights };
}

const cellOf = (x: number, from: number, to: number, cells: number): number =>
  Math.min(cells - 1, Math.floor(((x - from) / (to - from)) * cells));

function meanOf(cells: number, value: (c: number) => number): number {
  let sum = 0;
  let count = 0;
  for (let c = 0; c < cells; c++) {
    const v = value(c);
    if (!Number.isFinite(v)) continue;
    sum += v;
    count++;
  }
  return count === 0 ? 0 : sum / count;
}

/** How much higher the sole stands in the +Y third than in the −Y third of the midfoot, as a fraction of foot length. */
function archTilt(p: Float64Array, fl: number, left: Float64Array, right: Float64Array): number {
  const rows = 5;
  const cells = left.length;
  const lowest = new Float64Array(cells * rows).fill(Infinity);
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i] / fl;
    if (x <= 0.35 || x >= 0.6) continue;
    const c = cellOf(x, 0.35, 0.6, cells);
    const share = (p[i + 1] / fl - right[c]) / (left[c] - right[c]);
    if (!(share > 0.1 && share < 0.9)) continue;
    const r = Math.min(rows - 1, Math.floor(((share - 0.1) / 0.8) * rows));
    lowest[c * rows + r] = Math.min(lowest[c * rows + r], p[i + 2] / fl);
  }
  return meanOf(cells, (c) => lowest[c * rows + rows - 1] - lowest[c * rows]);
}

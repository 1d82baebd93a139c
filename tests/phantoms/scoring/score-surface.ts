import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import { VertexGrid } from '../surface/surface-walk.js';
import type { CastTruth } from '../truth.js';

/** Sums from which root mean squares and percentiles over many casts are made. */
export interface ErrorSums {
  count: number;
  squares: number;
  /** Every sixteenth error or so, for percentiles. */
  readonly sample: number[];
}

const noErrors = (): ErrorSums => ({ count: 0, squares: 0, sample: [] });

export interface SurfaceScore {
  /** Where finger marks of 0.8 mm and more were planted (their footprint to a tenth of the depth). */
  readonly fingers: ErrorSums;
  /** The same, but as scanned. */
  readonly fingersScanned: ErrorSums;
  /** Where ridges and the seam were planted. */
  readonly lines: ErrorSums;
  readonly linesScanned: ErrorSums;
  /** Untouched by any planted mark (less than 0.005 mm), against the clean surface without its texture. */
  readonly elsewhere: ErrorSums;
  /** The same against the clean surface with its texture. */
  readonly elsewhereTextured: ErrorSums;
  /** Made up by the program (filled holes): no scan vertex near. */
  readonly filled: ErrorSums;
}

/**
 * Signed distances of the cleaned mesh's vertices from the clean surface, by what was planted there. `toTruth` carries the
 * cleaned mesh into the truth's frame, so that an error of the frame does not count here. A vertex belongs to the scan
 * vertex whose clean position is nearest; further than 3 mm and 2.5 mean edges away it counts as filled. Of the vertices
 * one in `every` is looked at.
 */
export function scoreSurface(cleaned: Mesh, truth: CastTruth, toTruth: Transform, every = 1): SurfaceScore {
  const score: SurfaceScore = {
    fingers: noErrors(), fingersScanned: noErrors(), lines: noErrors(), linesScanned: noErrors(),
    elsewhere: noErrors(), elsewhereTextured: noErrors(), filled: noErrors(),
  };
  const p = transformPositions(toTruth, cleaned.positions);
  const known = truth.cleanPositions.map((c) => (Number.isNaN(c) ? 1e6 : c));
  const edge = meanEdge(cleaned);
  const reach = Math.max(3, 2.5 * edge);
  const grid = new VertexGrid(known, Math.max(3, 1.5 * edge));
  const add = (sums: ErrorSums, error: number): void => {
    if (sums.count++ % 16 === 0) sums.sample.push(Math.abs(error));
    sums.squares += error * error;
  };
  // Displacements reach into the surface by up to the depth of a mark; look for the owner around the surface's own point.
  for (let i = 0; i < p.length; i += 3 * every) {
    const distance = truth.cleanDistance(p[i], p[i + 1], p[i + 2]);
    let owner = -1;
    let best = Infinity;
    grid.near(p[i], p[i + 1], p[i + 2], reach + Math.min(6, Math.abs(distance)), (v, d) => {
      if (d < best) {
        best = d;
        owner = v;
      }
    });
    if (owner < 0) {
      add(score.filled, distance);
      continue;
    }
    const height = truth.markHeights[owner];
    const mark = truth.markOf[owner];
    if (mark >= 0) {
      const { kind, depth } = truth.marks[mark];
      if (kind === 'ridge' || kind === 'seam') {
        add(score.lines, distance);
        add(score.linesScanned, height);
      } else if (Math.abs(depth) >= 0.8) {
        add(score.fingers, distance);
        add(score.fingersScanned, height);
      }
    } else if (Math.abs(height) < 0.005) {
      add(score.elsewhere, distance);
      add(score.elsewhereTextured, distance - truth.texture(p[i], p[i + 1], p[i + 2]));
    }
  }
  return score;
}

function meanEdge({ positions, triangles }: Mesh): number {
  let sum = 0;
  const step = Math.max(1, Math.floor(triangles.length / 3 / 2000)) * 3;
  let count = 0;
  for (let t = 0; t < triangles.length; t += step) {
    const [a, b] = [3 * triangles[t], 3 * triangles[t + 1]];
    sum += Math.hypot(positions[a] - positions[b], positions[a + 1] - positions[b + 1], positions[a + 2] - positions[b + 2]);
    count++;
  }
  return sum / Math.max(1, count);
}

/** The sums of several scores as one. */
export function pooled<T>(scores: readonly T[], which: (score: T) => ErrorSums): ErrorSums {
  const all = noErrors();
  for (const score of scores) addSums(all, which(score));
  return all;
}

export const rms = (sums: ErrorSums): number => Math.sqrt(sums.squares / Math.max(1, sums.count));

export function percentile(sums: ErrorSums, share: number): number {
  const sorted = Float64Array.from(sums.sample).sort();
  return sorted.length === 0 ? 0 : sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

export function addSums(into: ErrorSums, more: ErrorSums): void {
  into.count += more.count;
  into.squares += more.squares;
  for (const e of more.sample) into.sample.push(e);
}

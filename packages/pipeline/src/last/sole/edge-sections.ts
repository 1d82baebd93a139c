import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { SectionCurve } from '@cast-to-last/geometry/sections/section';
import { section } from '@cast-to-last/geometry/sections/section';
import type { SoleMap } from './sole-map.js';
import { heightAt } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';

export const EDGE_SECTION = {
  /** How far from the outline the surface may pass, mm. */
  near: 8,
  /** Length of the section that is read to the sole's and to the side's hand, mm. */
  inward: 22,
  upward: 20,
  /** Shortest length to either hand that is enough to tell an edge by, mm. */
  least: 5,
} as const;

/**
 * The surface round the sole's edge in the upright plane square to the outline at one sample: out (d) and up (z) of its
 * points, mm, d from the sample, z over the rest plane; from the sole over the edge up the side.
 */
export interface EdgeSection {
  readonly out: Float64Array;
  readonly up: Float64Array;
}

/**
 * The section at a sample of the outline; null where the surface does not pass there in one sheet.
 *
 * @param twin halfedge twins of the mesh
 */
export function edgeSection(mesh: Mesh, twin: Int32Array, outline: SoleOutline, map: SoleMap, sample: number): EdgeSection | null {
  const x = outline.points[2 * sample];
  const y = outline.points[2 * sample + 1];
  const tx = outline.along[2 * sample];
  const ty = outline.along[2 * sample + 1];
  const nx = outline.outward[2 * sample];
  const ny = outline.outward[2 * sample + 1];
  const z = heightNear(map, x, y, nx, ny);
  if (Number.isNaN(z)) return null;
  const size = Math.hypot(tx, ty);
  const curves = section(mesh, twin, [tx / size, ty / size, 0], (tx * x + ty * y) / size, { at: [x, y, z], reach: EDGE_SECTION.near });
  let best = null as SectionCurve | null;
  let at = -1;
  let nearest = EDGE_SECTION.near ** 2;
  for (const curve of curves) {
    const p = curve.points;
    for (let i = 0; i < p.length; i += 3) {
      const d = (p[i] - x) * nx + (p[i + 1] - y) * ny;
      const square = d * d + (p[i + 2] - z) ** 2;
      if (square < nearest) {
        best = curve;
        at = i / 3;
        nearest = square;
      }
    }
  }
  return best === null ? null : windowOf(best, at, x, y, nx, ny);
}

/** z of the map at the outline, or a little inside it where the outline runs past the surface. */
function heightNear(map: SoleMap, x: number, y: number, nx: number, ny: number): number {
  for (let inside = 0; inside <= 4; inside++) {
    const z = heightAt(map, x - inside * nx, y - inside * ny);
    if (!Number.isNaN(z)) return z;
  }
  return NaN;
}

/** The part of a curve round one of its points, turned to lead from the sole up the side. */
function windowOf({ points: p, closed }: SectionCurve, at: number, x: number, y: number, nx: number, ny: number): EdgeSection | null {
  const count = p.length / 3;
  const out = (i: number): number => (p[3 * i] - x) * nx + (p[3 * i + 1] - y) * ny;
  const walk = (step: 1 | -1, length: number): number[] => {
    const found: number[] = [];
    let i = at;
    let far = 0;
    while (far < length && found.length < count) {
      const j = closed ? (i + step + count) % count : i + step;
      if (j < 0 || j >= count) break;
      far += Math.hypot(p[3 * j] - p[3 * i], p[3 * j + 1] - p[3 * i + 1], p[3 * j + 2] - p[3 * i + 2]);
      found.push(j);
      i = j;
    }
    return found;
  };
  // The hand that leads out and up, judged a few millimetres off so that noise does not turn it.
  const ahead = walk(1, 4);
  const behind = walk(-1, 4);
  if (ahead.length === 0 || behind.length === 0) return null;
  const a = ahead[ahead.length - 1];
  const b = behind[behind.length - 1];
  const rises = out(a) - out(b) + p[3 * a + 2] - p[3 * b + 2];
  const side = walk(rises > 0 ? 1 : -1, EDGE_SECTION.upward);
  const sole = walk(rises > 0 ? -1 : 1, EDGE_SECTION.inward);
  const order = [...sole.reverse(), at, ...side];
  const found = { out: Float64Array.from(order, out), up: Float64Array.from(order, (i) => p[3 * i + 2]) };
  const last = order.length - 1;
  const lengths = [found.out[sole.length] - found.out[0], found.up[last] - found.up[sole.length]];
  return Math.min(...lengths) < EDGE_SECTION.least * 0.5 ? null : found;
}

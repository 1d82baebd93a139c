import type { Landmarks } from '@cast-to-last/foot/landmarks';
import type { RestPlane } from '../reference/rest-plane.js';
import { above, facing, type SoleSurface } from './reference-planes.js';

/** Cells in which the lowest point of a toe's pad is sought, mm. */
const CELL = 9;
/** Sole within this angle of its plate: 40°. */
const LEAST_FACING = Math.cos((40 * Math.PI) / 180);

/** How far apart a right foot's borders stand at x, from the vertices below 0.12 FL: [outer, inner] every 2 mm of x. */
function borders({ positions: p }: SoleSurface, fl: number): (x: number) => readonly [number, number] {
  const rows = Math.ceil(fl / 2) + 1;
  const low = new Float64Array(rows).fill(Infinity);
  const high = new Float64Array(rows).fill(-Infinity);
  for (let i = 0; i < p.length; i += 3) {
    const row = Math.round(p[i] / 2);
    if (row < 0 || row >= rows || p[i + 2] > 0.12 * fl) continue;
    low[row] = Math.min(low[row], p[i + 1]);
    high[row] = Math.max(high[row], p[i + 1]);
  }
  return (x) => {
    const row = Math.min(rows - 1, Math.max(0, Math.round(x / 2)));
    return [low[row], high[row]];
  };
}

/**
 * Root mean square of the distances from the contact planes, by surface, of the sole that shall lie on the plates (right
 * foot): heel seat (0.05 to 0.24 FL, middle 60 % of the breadth), outer border (0.28 FL to 0.03 FL behind the ball line, a band
 * from 15 to 30 % of the breadth), ball tread (within 0.035 FL of the ball line, 20 to 80 %), and the lowest point of every
 * 9 mm of the toes (from 0.10 FL ahead of the ball line, 20 to 80 %). Only what faces the nearer plate within 40° counts; each of
 * the four places has the same weight a mm², the toes' points 9 × 9 mm² each.
 */
export function soleFlatness(surface: SoleSurface, marks: Landmarks, { rear, front, toeEnd }: { readonly rear: RestPlane; readonly front: RestPlane; readonly toeEnd: number }): number {
  const { positions: p, normals, areas } = surface;
  const fl = marks.footLength;
  const border = borders(surface, fl);
  const { medialBall: m, lateralBall: l } = marks;
  const lowest = new Map<string, number>();
  let [sum, weight] = [0, 0];
  for (let v = 0; v < areas.length; v++) {
    const [x, y, z] = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    if (x > toeEnd || z > 0.2 * fl || normals[3 * v + 2] > -0.5) continue;
    // The bed is the higher of the two plates.
    const plane = front.slopeX * x + front.slopeY * y + front.height > rear.slopeX * x + rear.slopeY * y + rear.height ? front : rear;
    if (facing(plane, normals, v) < LEAST_FACING) continue;
    const [outer, inner] = border(x);
    const across = (y - outer) / (inner - outer);
    const ahead = x - (l[0] + ((y - l[1]) / (m[1] - l[1])) * (m[0] - l[0]));
    const height = above(plane, p, v);
    if (ahead > 0.1 * fl) {
      if (across < 0.2 || across > 0.8) continue;
      const cell = `${Math.floor(x / CELL)} ${Math.floor(y / CELL)}`;
      lowest.set(cell, Math.min(lowest.get(cell) ?? Infinity, height));
      continue;
    }
    const seat = x > 0.05 * fl && x < 0.24 * fl && across > 0.2 && across < 0.8;
    const band = x > 0.28 * fl && ahead < -0.03 * fl && across > 0.15 && across < 0.3;
    const tread = Math.abs(ahead) < 0.035 * fl && across > 0.2 && across < 0.8;
    if (!seat && !band && !tread) continue;
    sum += areas[v] * height * height;
    weight += areas[v];
  }
  for (const height of lowest.values()) {
    sum += CELL * CELL * height * height;
    weight += CELL * CELL;
  }
  return Math.sqrt(sum / weight);
}

import type { FeltFilter } from '@cast-to-last/foot/felt-surface';
import { feltFilter } from '@cast-to-last/foot/felt-surface';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import type { LastBody } from '../last-body.js';
import { FLANKS } from './flank-field.js';

/** How far over the instep the surface reaches that tapes can lie on, mm; ahead of the ball's points it reaches as far as the flanks are moved. */
const ABOVE = FLANKS.above + FLANKS.aboveFades;

/** The part of a body that tapes lie on, as they feel it. */
export interface TapedSurface {
  readonly felt: Wrapped;
  /** A move of the body's vertices, three numbers each, as the surface is moved by it. */
  moveOf(move: Float64Array): Float64Array;
}

/**
 * The part of a body that tapes round ball, waist and instep lie on, as they feel it: toes and leg take no part. On it the
 * shortest tapes are those on the whole body, for a plane that goes up the leg gives a long one.
 */
export function tapedSurface(body: LastBody): TapedSurface {
  const { vertices, triangles } = partOf(body);
  const gathered = (values: Float64Array): Float64Array => {
    const out = new Float64Array(3 * vertices.length);
    for (let i = 0; i < vertices.length; i++) {
      const from = 3 * vertices[i];
      out[3 * i] = values[from];
      out[3 * i + 1] = values[from + 1];
      out[3 * i + 2] = values[from + 2];
    }
    return out;
  };
  const positions = gathered(body.mesh.positions);
  const filled = new Uint8Array(vertices.length);
  for (let i = 0; i < filled.length; i++) filled[i] = body.filled[vertices[i]];
  const filter: FeltFilter = feltFilter({ positions, triangles }, filled, meanEdgeLength(body.mesh));
  const felt = { mesh: { positions: filter.of(positions), triangles: filter.triangles }, twin: filter.twin, filled: filter.filled };
  return { felt, moveOf: (move) => filter.of(gathered(move)) };
}

/** The part's triangles by its own vertices, and which of the body each of those is. */
function partOf({ mesh: { positions: p, triangles: t }, landmarks: { medialBall, lateralBall, instep, footLength } }: LastBody): { readonly vertices: Uint32Array; readonly triangles: Uint32Array } {
  const front = Math.max(medialBall[0], lateralBall[0]) + FLANKS.ahead * footLength;
  const top = instep === null ? Infinity : instep[2] + ABOVE;
  const place = new Int32Array(p.length / 3).fill(-1);
  const vertices = new Uint32Array(place.length);
  const triangles = new Uint32Array(t.length);
  let count = 0;
  let size = 0;
  for (let f = 0; f < t.length; f += 3) {
    const a = 3 * t[f];
    const b = 3 * t[f + 1];
    const c = 3 * t[f + 2];
    if (p[a] > front || p[b] > front || p[c] > front || p[a + 2] > top || p[b + 2] > top || p[c + 2] > top) continue;
    for (let h = f; h < f + 3; h++) {
      const v = t[h];
      if (place[v] < 0) {
        place[v] = count;
        vertices[count++] = v;
      }
      triangles[size++] = place[v];
    }
  }
  return { vertices: vertices.slice(0, count), triangles: triangles.slice(0, size) };
}

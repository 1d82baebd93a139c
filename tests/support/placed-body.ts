import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { makePhantom } from '../phantoms/make-phantom.js';
import type { Position } from '../phantoms/position/position.js';

/** A generated cast of a foot that stood on a footbed, with texture and noise but no marks, as the steps to the last take it. */
export function placedBody(seed: number, position: Position, triangles: number): LastBody {
  const { scan, truth } = makePhantom(seed, {
    triangles, denseTriangles: triangles, position, posed: false, unit: 'mm', dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false,
  });
  return { mesh: scan, opening: boundaryLoops(scan)[0] ?? null, filled: new Uint8Array(scan.positions.length / 3), landmarks: truth.landmarks, side: truth.side };
}

import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import type { Oddity } from '../phantoms/foot/foot-parameters.js';
import { makePhantom } from '../phantoms/make-phantom.js';

export interface CastBodyOptions {
  readonly triangles?: number;
  readonly oddities?: readonly Oddity[];
  readonly side?: Side;
  readonly top?: 'cut' | 'ragged' | 'capped';
}

/** A generated cast with texture and noise but no marks, as the steps to the last take it. */
export function castBody(seed: number, { triangles = 12_000, ...options }: CastBodyOptions = {}): LastBody {
  const { scan, truth } = makePhantom(seed, {
    triangles, denseTriangles: triangles, posed: false, unit: 'mm', dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, ...options,
  });
  const loops = boundaryLoops(scan);
  return { mesh: scan, opening: loops[0] ?? null, filled: new Uint8Array(scan.positions.length / 3), landmarks: truth.landmarks, side: truth.side };
}

/** The body of the other side: mirrored in the plane y = 0 and turned outward again. */
export function mirroredBody(body: LastBody): LastBody {
  const flip = <T extends readonly [number, number, number] | null>(p: T): T => (p === null ? p : ([p[0], -p[1], p[2]] as unknown as T));
  const { landmarks: l } = body;
  const mesh: Mesh = { positions: body.mesh.positions.map((c, i) => (i % 3 === 1 ? -c : c)), triangles: body.mesh.triangles.slice() };
  for (let t = 0; t < mesh.triangles.length; t += 3) [mesh.triangles[t], mesh.triangles[t + 1]] = [mesh.triangles[t + 1], mesh.triangles[t]];
  return {
    ...body, mesh, side: body.side === 'left' ? 'right' : 'left', opening: body.opening?.slice().reverse() ?? null,
    landmarks: {
      footLength: l.footLength, pternion: flip(l.pternion), toeTip: flip(l.toeTip), heelCentre: flip(l.heelCentre), ballCentre: flip(l.ballCentre),
      medialBall: flip(l.medialBall), lateralBall: flip(l.lateralBall), instep: flip(l.instep), waist: flip(l.waist), crook: flip(l.crook), heelCorner: flip(l.heelCorner),
    },
  };
}

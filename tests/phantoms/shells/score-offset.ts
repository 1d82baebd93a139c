import { compose, identity, invertRigid, transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import type { ErrorSums } from '../scoring/score-surface.js';
import type { Shell } from './make-shell.js';
import { NearMesh } from './near-mesh.js';

/** Signed distances of the surface that an outside scan became, mm, pooled. */
export interface OffsetScore {
  /** Away from webs, against the true inner surface. */
  readonly open: ErrorSums;
  readonly openBias: number;
  /** In webs, against the inner surface with its webs filled by balls as large as the wall: what the outside can tell of. */
  readonly webs: ErrorSums;
  /** In webs, against the inner surface itself, with what no outside can tell. */
  readonly websBare: ErrorSums;
  /** Away from webs: how far the scanned outside itself departs from the wall's distance, by texture and noise. */
  readonly floor: ErrorSums;
}

const none = (): ErrorSums => ({ count: 0, squares: 0, sample: [] });

function add(sums: ErrorSums, error: number): void {
  if (sums.count++ % 4 === 0) sums.sample.push(Math.abs(error));
  sums.squares += error * error;
}

/** Webs: where no ball of this many walls can touch the inner surface from outside. */
const WEB_BALL = 1.3;
/** Nothing is scored this near to marks higher than this, or to the top edge, mm. */
const UNMARKED = 0.02;
const TOP = 6;

/** The places of a right foot's clean frame at which points of the program's frame lie. */
export function intoTruth({ truth }: Shell, transform: Transform, positions: Float64Array): Float64Array {
  const p = transformPositions(compose(truth.transform, invertRigid(transform)), positions);
  if (truth.side === 'left') for (let i = 1; i < p.length; i += 3) p[i] = -p[i];
  return p;
}

/** Scores the surface that align hands on (moved in by the wall, marks still on it) without what repair made up. */
export function scoreOffset(shell: Shell, { aligned }: CheckOutcome): OffsetScore {
  const { skin, edge, wall, nominalWall, marked, outer } = shell.truth;
  if (outer === null) throw new Error('an outside scan has an outer sheet');
  const near = new NearMesh(outer);
  const radius = WEB_BALL * nominalWall;
  const q = new Float64Array(3);
  const n = new Float64Array(3);
  /** The point of the skin under a place, left in q; null where nothing shall be scored. */
  const place = (x: number, y: number, z: number): 'open' | 'web' | null => {
    if (skin.distance(x, y, z, 40) === Infinity) return null;
    q.set(skin.foot.point);
    skin.exactly(q, n);
    if (q[2] > edge(q[0], q[1]) - nominalWall - TOP || marked(q[0], q[1], q[2]) > UNMARKED) return null;
    return skin.distance(q[0] + radius * n[0], q[1] + radius * n[1], q[2] + radius * n[2]) < radius - 0.05 ? 'web' : 'open';
  };
  const distance = (x: number, y: number, z: number): number => (x - q[0]) * n[0] + (y - q[1]) * n[1] + (z - q[2]) * n[2];
  const score = { open: none(), webs: none(), websBare: none(), floor: none() };
  let sum = 0;
  const p = intoTruth(shell, aligned.transform, aligned.mesh.positions);
  for (let v = 0; v < p.length / 3; v++) {
    if (aligned.filled[v] === 1) continue;
    const [x, y, z] = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    const where = place(x, y, z);
    if (where === null) continue;
    const d = distance(x, y, z);
    if (where === 'open') {
      add(score.open, d);
      sum += d;
    } else {
      add(score.websBare, d);
      add(score.webs, wall(q[0], q[1], q[2]) - near.distance(x, y, z));
    }
  }
  const scan = intoTruth(shell, identity(), shell.scan.positions);
  for (let i = 0; i < scan.length; i += 3) {
    if (place(scan[i], scan[i + 1], scan[i + 2]) !== 'open') continue;
    const d = distance(scan[i], scan[i + 1], scan[i + 2]);
    if (d > 0.6 * nominalWall) add(score.floor, d - wall(q[0], q[1], q[2]));
  }
  return { ...score, openBias: sum / Math.max(1, score.open.count) };
}

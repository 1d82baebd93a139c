import { transformMesh, transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { buildCast } from '../build-cast.js';
import { trim } from '../surface/build-surface.js';
import type { ExactMesh } from '../surface/densify.js';
import { drawFoot, ODDITIES } from '../foot/foot-parameters.js';
import { next } from '../surface/halfedges.js';
import type { Family } from '../phantom-options.js';
import type { Random } from '../random.js';
import { referenceFrame, seenFrom } from '../reference/frame.js';
import { referenceMeasures } from '../reference/measures.js';
import type { Measures } from '../truth.js';
import { NearSkin } from './near-skin.js';
import { slowAlong } from './slow.js';

/** How much higher than its edge the skin is built, mm: room for the wall's reach and for sections at the edge. */
const SPARE = 34;

export interface ShellFoot {
  readonly family: Family;
  readonly oddities: readonly string[];
  /** The dense clean skin in the foot frame of a right foot; it reaches above the edge. */
  readonly skin: NearSkin;
  /** As dense as a sheet of the scan shall be. */
  readonly inner: ExactMesh;
  /** Height of the shell's top edge over a place of the rest plane. */
  readonly edge: (x: number, y: number) => number;
  /** The lowest that the edge comes. */
  readonly whole: number;
  readonly measures: Measures;
  readonly landmarks: Landmarks;
}

export interface FootPlan {
  readonly family?: Family;
  /** mm of the edge over the medial malleolus */
  readonly rise: number;
  readonly ragged: boolean;
  readonly triangles: number;
  readonly denseTriangles: number;
  /** How much further than drawn the toes melt together; 1 as drawn. */
  readonly merge: number;
}

const rotationOf = (m: Transform): Transform => m.map((c, i) => (i % 4 === 3 && i < 12 ? 0 : c));

/** The foot that a shell was made over, with its measures up to the shell's edge; null where its mesh lost a vertex in a narrow cleft. */
export function shellFoot(random: Random, plan: FootPlan): ShellFoot | null {
  const family = plan.family ?? random.fork('family').pick(['bones', 'bones', 'sections', 'sections', 'blunt'] as const);
  const odd = random.fork('oddities');
  const oddities = odd.chance(0.45) ? [odd.pick(ODDITIES)] : [];
  const drawn = drawFoot(random.fork('foot'), oddities);
  const size = { triangles: plan.triangles, denseTriangles: plan.denseTriangles };
  const { built, dense, field } = buildCast(family, { ...drawn, toeMerge: plan.merge * drawn.toeMerge }, { top: 'cut', rise: plan.rise + SPARE }, size, random);
  if (torn(dense) || torn(built)) return null;
  const toFoot = referenceFrame(dense, 'right', field);
  const inFrame = (mesh: ExactMesh): ExactMesh => ({ ...transformMesh(toFoot, mesh), normals: transformPositions(rotationOf(toFoot), mesh.normals) });
  const skin = new NearSkin(inFrame(dense), seenFrom(field, toFoot));
  const { edge, whole } = drawEdge(random.fork('edge'), drawn.medialMalleolusHeight + plan.rise, drawn.targets.length, plan.ragged);
  const upToEdge = trim(skin.mesh, (x, y, z) => z < edge(x, y));
  const { measures, landmarks } = referenceMeasures(upToEdge, 'right', { field: skin.field, top: whole - 3 });
  return { family, oddities, skin, inner: built === dense ? skin.mesh : inFrame(built), edge, whole, measures, landmarks };
}

/** Whether an edge is many times as long as they are on the whole: a vertex was thrown far off the surface. */
function torn({ positions: p, triangles }: ExactMesh): boolean {
  let [sum, most] = [0, 0];
  for (let h = 0; h < triangles.length; h++) {
    const [a, b] = [3 * triangles[h], 3 * triangles[next(h)]];
    const length = Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
    sum += length;
    most = Math.max(most, length);
  }
  return most > 12 * (sum / triangles.length);
}

/** A level or tilted edge, cut clean or torn in waves. */
function drawEdge(random: Random, height: number, length: number, ragged: boolean): { edge: ShellFoot['edge']; whole: number } {
  const [a, b] = [random.normalWithin(0, 0.05, 2), random.normalWithin(0, 0.05, 2)];
  const torn = slowAlong(random, 60);
  const fine = slowAlong(random, 14);
  const x0 = 0.2 * length;
  const edge: ShellFoot['edge'] = (x, y) => {
    const plane = height + a * (x - x0) + b * y;
    if (!ragged) return plane;
    const round = 45 * Math.atan2(y, x - x0);
    // Faded where the turn jumps, at the back of the heel.
    const fade = Math.min(1, (Math.PI * 45 - Math.abs(round)) / 20);
    return plane + fade * (4 * torn(round) + 0.8 * fine(round));
  };
  return { edge, whole: height - 45 * (Math.abs(a) + Math.abs(b)) - (ragged ? 4.8 : 0) };
}

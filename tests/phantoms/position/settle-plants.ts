import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { manifoldNet, trim, type Below } from '../surface/build-surface.js';
import { projectWithin } from '../surface/densify.js';
import { opposites } from '../surface/halfedges.js';
import type { Random } from '../random.js';
import { referenceFrame, seenFrom } from '../reference/frame.js';
import { referenceMeasures } from '../reference/measures.js';
import { hingeAhead } from './hinge-ahead.js';
import { placeFoot, type FlatFoot } from './place-foot.js';
import type { Plants, Position } from './position.js';
import { offTheRearPlate, rearPlate } from './rear-plate.js';
import { positionReadings, type PositionReadings } from './reference-readings.js';

/** Cells of the meshes by which the plants are found, mm. */
const CELL = 6;
const ROUNDS = 5;
/** Holes lie lower, the upper edge lies higher, mm. */
const UPPER_EDGE = 55;
/** Degrees and mm that a reading may be off what was asked for. */
const NEAR_ENOUGH = 0.5;
/** So much does the toe box's share of the ball width count for against these. */
const TOE_BOX_WEIGHT = 100;

/** Readings of a placed foot on a coarse mesh. */
function coarseReadings(foot: FlatFoot, position: Position, plants: Plants, room: Float64Array, belowFlat: Below, random: Random): PositionReadings & { plateHingeMm: number } {
  const { field, toFlat, hinge } = placeFoot(foot, position, plants, random);
  const mesh = trim(manifoldNet(field, room, CELL), inFlat(toFlat, belowFlat));
  projectWithin(field, mesh.positions, 2, 20);
  const toFrame = referenceFrame(mesh, 'right', field);
  const here = transformMesh(toFrame, mesh);
  const { landmarks } = referenceMeasures(here, 'right', { field: seenFrom(field, toFrame), only: ['foot-length'] });
  const read = positionReadings(here, landmarks, { top: upperEdge(here), toeEnd: landmarks.footLength - (position.fold?.lengthMm ?? 0), hingeMm: position.hingeMm ?? 0 });
  return { ...read, ...(position.heelOnPlateDeg === undefined ? {} : offTheRearPlate(read, rearPlate(toFrame))), plateHingeMm: hingeAhead(hinge, toFrame, landmarks.medialBall) };
}

/** Lowest point of the upper edge; holes where a coarse mesh lost a vertex lie lower. */
function upperEdge({ positions, triangles }: Mesh): number {
  let lowest = Infinity;
  opposites(triangles, positions.length / 3).forEach((other, h) => {
    const z = positions[3 * triangles[h] + 2];
    if (other < 0 && z > UPPER_EDGE) lowest = Math.min(lowest, z);
  });
  return lowest;
}

/** The same question asked of a point of the placed foot. */
export function inFlat<T>(toFlat: (p: Float64Array) => void, ask: (x: number, y: number, z: number) => T): (x: number, y: number, z: number) => T {
  const p = new Float64Array(3);
  return (x, y, z) => {
    p[0] = x;
    p[1] = y;
    p[2] = z;
    toFlat(p);
    return ask(p[0], p[1], p[2]);
  };
}

/**
 * The plants with which the reference reads what the position says, by trial on coarse meshes: what lacks is added, round by
 * round, for a plant of one kind moves the frame that the others are read in. Where a position cannot be reached the last
 * trial stands; the reference on the finished cast says what it came to.
 */
export function settlePlants(foot: FlatFoot, position: Position, room: Float64Array, belowFlat: Below, random: Random): Plants {
  const hinged = Math.abs(position.bendDeg) > 4;
  let plants: Plants = {
    bendDeg: position.bendDeg,
    hingeX: foot.medialBall[0] + (position.hingeMm ?? 0),
    leanDeg: position.leanInFrameDeg,
    rearViewDeg: position.rearViewDeg,
    twistDeg: position.twistDeg ?? 0,
    heelDeg: position.heelOnPlateDeg ?? 0,
    toeBoxShare: position.toeBoxShare ?? 1,
  };
  for (let round = 0; round < ROUNDS; round++) {
    const read = coarseReadings(foot, position, plants, room, belowFlat, random);
    const off = (wanted: number, got: number | null): number => (got === null ? 0 : wanted - got);
    const lacks = {
      hinge: position.exact && hinged ? off(position.hingeMm ?? 0, read.plateHingeMm) : 0,
      lean: off(position.leanInFrameDeg, read.leanInFrameDeg),
      rear: off(position.rearViewDeg, read.rearViewDeg),
      toes: position.toeBox === undefined ? 0 : TOE_BOX_WEIGHT * off(position.toeBox, read.toeBox),
      twist: position.twistDeg === undefined ? 0 : off(position.twistDeg, read.twistDeg),
    };
    if (Math.max(...Object.values(lacks).map(Math.abs)) < NEAR_ENOUGH) break;
    plants = {
      ...plants,
      hingeX: plants.hingeX + within(lacks.hinge, 15),
      leanDeg: plants.leanDeg + within(lacks.lean, 12),
      rearViewDeg: plants.rearViewDeg + within(lacks.rear, 8),
      twistDeg: plants.twistDeg + within(lacks.twist, 4),
      toeBoxShare: position.toeBox === undefined ? plants.toeBoxShare : Math.max(0.4, Math.min(1, (plants.toeBoxShare * position.toeBox) / read.toeBox)),
    };
  }
  return plants;
}

const within = (value: number, limit: number): number => Math.max(-limit, Math.min(limit, value));

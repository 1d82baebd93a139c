import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { identity, invertRigid, transformMesh, transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { buildCast } from './build-cast.js';
import { keepTriangles } from './surface/build-surface.js';
import { debris, holes, missingSole } from './scan/damage.js';
import type { ExactMesh } from './surface/densify.js';
import { drawFoot, ODDITIES, otherFoot } from './foot/foot-parameters.js';
import { Ground } from './marks/ground.js';
import { gradient, type Field } from './surface/implicit.js';
import { joinMeshes, mirrorLandmarks, mirrorMesh } from './surface/mirror-mesh.js';
import type { Family, PhantomOptions } from './phantom-options.js';
import { plantFinger } from './marks/plant-fingers.js';
import { plantRidge, plantSeam } from './marks/plant-lines.js';
import { anyPose } from './scan/pose.js';
import { hingeAhead } from './position/hinge-ahead.js';
import { missingParts } from './position/missing-parts.js';
import { rearPlate } from './position/rear-plate.js';
import { toeEndOf } from './position/toe-end.js';
import { randomFrom, type Random } from './random.js';
import { referenceFrame, seenFrom } from './reference/frame.js';
import { referenceMeasures } from './reference/measures.js';
import { regionOf } from './marks/regions.js';
import { addScanNoise } from './scan/scan-noise.js';
import type { CastTruth, PlantedMark } from './truth.js';
import { bandageWeave } from './scan/weave.js';
import { wholeUpTo } from './scan/whole-up-to.js';

export interface Phantom {
  readonly seed: number;
  /** What the scanner delivers, in mm, in the scan's own coordinates. */
  readonly scan: Mesh;
  /** The unit that the scan's file shall be written in: coordinates in mm × `UNITS_PER_MM[unit]`. */
  readonly unit: 'mm' | 'cm' | 'm' | 'in';
  readonly truth: CastTruth;
  /** What was asked for and drawn, for reports. */
  readonly made: { readonly family: Family; readonly oddities: readonly string[]; readonly noise: number; readonly weave: number; readonly top: string; readonly missingSole: boolean; readonly debris: boolean; readonly holes: number };
}

export const UNITS_PER_MM = { mm: 1, cm: 0.1, m: 0.001, in: 1 / 25.4 } as const;

/** A synthetic plaster cast with its exact truth; the same seed and options give the same cast bit for bit. */
export function makePhantom(seed: number, options: PhantomOptions = {}): Phantom {
  const random = randomFrom(seed);
  const person = options.footSeed === undefined ? random : randomFrom(options.footSeed);
  const family = options.family ?? drawFamily(person.fork('family'));
  const oddities = options.oddities ?? drawOddities(person.fork('oddities'));
  const drawn = drawFoot(person.fork('foot'), oddities);
  const foot = options.footSeed === undefined ? drawn : otherFoot(drawn, random.fork('other foot'));
  const top = options.top ?? random.fork('top').pick(['cut', 'cut', 'ragged', 'ragged', 'capped'] as const);
  const size = { triangles: options.triangles ?? 250_000, denseTriangles: options.denseTriangles ?? 100_000 };
  const { built, dense, field, cap, height, placed } = buildCast(family, foot, { top, rise: options.rise ?? random.fork('rise').between(60, 140) }, size, random, options.position);

  const toFoot = referenceFrame(dense, 'right', field);
  const clean = transformMesh(toFoot, dense);
  const footField = seenFrom(field, toFoot);
  const wholeTo = wholeUpTo(clean, cap && seenFrom(cap, toFoot));
  const { measures, landmarks } = referenceMeasures(clean, 'right', { field: footField, top: wholeTo });
  const surface: ExactMesh = {
    positions: transformPositions(toFoot, built.positions),
    triangles: built.triangles,
    normals: transformPositions(rotationOf(toFoot), built.normals),
  };
  const ground = new Ground(surface, footField, (v) => regionOf(surface.positions.subarray(3 * v, 3 * v + 3), surface.normals.subarray(3 * v, 3 * v + 3), 'right', landmarks));
  keepOffTheTop(ground, height);
  const marks = plantMarks(ground, landmarks, random.fork('marks'), options);

  const weave = options.weave ?? random.fork('weave').between(0.02, 0.1);
  const texture = bandageWeave(random.fork('texture'), weave, options.thickness ?? 0);
  const noise = options.noise ?? random.fork('noise').between(0.02, 0.08);
  const rough = surface.positions.slice();
  for (let v = 0; v < ground.heights.length; v++) {
    const h = ground.heights[v] + texture(rough[3 * v], rough[3 * v + 1], rough[3 * v + 2]);
    for (let k = 0; k < 3; k++) rough[3 * v + k] += h * surface.normals[3 * v + k];
  }
  addScanNoise(rough, surface.normals, noise, random.fork('scanner'));

  const damage = random.fork('damage');
  const holeCount = options.holes ?? damage.whole(0, 5);
  const gone = holes(surface, holeCount, damage);
  const soleGone = options.missingSole ?? damage.chance(0.08);
  if (soleGone) missingSole(surface, surface.normals, landmarks.footLength, damage).forEach((g, t) => { if (g) gone[t] = 1; });
  const missing = options.position?.missing;
  const toeEnd = placed && toeEndOf(seenFrom(placed.bare, toFoot), landmarks);
  if (missing) missingParts(surface, landmarks, missing, random.fork('missing')).forEach((g, t) => { if (g) gone[t] = 1; });
  const kept = keepTriangles({ positions: rough, triangles: surface.triangles }, (t) => gone[t] === 0);
  const withDebris = options.debris ?? damage.chance(0.5);
  const extra = withDebris ? debris(surface, surface.normals, damage) : [];
  const pieces = joinMeshes([kept.mesh, ...extra]);

  const left = (options.side ?? random.fork('side').pick(['left', 'right'] as const)) === 'left';
  const pose = options.posed === false ? identity() : anyPose(random.fork('pose'));
  const inFoot = left ? mirrorMesh(pieces) : pieces;
  const total = pieces.positions.length / 3;
  const newNumber = new Map<number, number>();
  kept.from.forEach((old, i) => newNumber.set(old, i));
  const flipY = left ? -1 : 1;
  const mirrored = (p: readonly number[]): Point => [p[0], flipY * p[1], p[2]];
  const perVertex = (values: Float64Array, missing: number): Float64Array => {
    const out = new Float64Array(3 * total).fill(missing);
    kept.from.forEach((old, i) => out.set([values[3 * old], flipY * values[3 * old + 1], values[3 * old + 2]], 3 * i));
    return out;
  };
  const truth: CastTruth = {
    side: left ? 'left' : 'right',
    family,
    transform: invertRigid(pose),
    landmarks: mirrorLandmarks(landmarks, mirrored),
    measures,
    marks: marks.map((m) => ({
      ...m,
      centre: mirrored(m.centre),
      ...(m.path ? { path: m.path.map((c, i) => (i % 3 === 1 ? flipY * c : c)) } : {}),
      vertices: Uint32Array.from([...m.vertices].filter((v) => newNumber.has(v)).map((v) => newNumber.get(v) as number)),
    })),
    clean: left ? mirrorMesh(clean) : { positions: clean.positions, triangles: clean.triangles },
    cleanDistance: distanceTo(footField, flipY),
    texture: (x, y, z) => texture(x, flipY * y, z),
    cleanPositions: perVertex(surface.positions, NaN),
    cleanNormals: perVertex(surface.normals, NaN),
    markHeights: Float64Array.from({ length: total }, (_, v) => (v < kept.from.length ? ground.heights[kept.from[v]] : 0)),
    markOf: Int32Array.from({ length: total }, (_, v) => (v < kept.from.length ? ground.markOf[kept.from[v]] : -1)),
    ...(placed && options.position && toeEnd !== undefined ? { placed: { position: options.position, plants: placed.plants, toeEnd, wholeTo, hingeMm: hingeAhead(placed.hinge, toFoot, landmarks.medialBall), rearPlate: rearPlate(toFoot) } } : {}),
  };
  return {
    seed,
    scan: transformMesh(pose, inFoot),
    unit: options.unit ?? random.fork('unit').pick(['mm', 'mm', 'mm', 'mm', 'm', 'cm', 'in'] as const),
    truth,
    made: { family, oddities, noise, weave, top, missingSole: soleGone, debris: withDebris, holes: holeCount },
  };
}

function drawFamily(random: Random): Family {
  return random.pick(['bones', 'bones', 'sections', 'sections', 'blunt']);
}

const drawOddities = (random: Random) => (random.chance(0.45) ? [random.pick(ODDITIES)] : []);

/** No mark within about 10 mm of the top edge. */
function keepOffTheTop(ground: Ground, height: number): void {
  const p = ground.mesh.positions;
  for (let v = 0; v < ground.taken.length; v++) if (p[3 * v + 2] > height - 22) ground.taken[v] = 1;
}

function plantMarks(ground: Ground, landmarks: Landmarks, random: Random, options: PhantomOptions): PlantedMark[] {
  const marks: PlantedMark[] = [];
  const overlap = options.overlap ?? false;
  const take = (mark: PlantedMark | null): void => {
    if (mark) marks.push(mark);
  };
  const counts = random.fork('counts');
  const [dents, bumps, ridges] = [options.dents ?? counts.whole(3, 10), options.bumps ?? counts.whole(0, 4), options.ridges ?? counts.whole(1, 5)];
  const wantsSeam = options.seam ?? counts.chance(0.75);
  if (wantsSeam && landmarks.crook) {
    const toeBase: [number, number, number] = [0.76 * landmarks.footLength, 0.05 * landmarks.footLength, 0.13 * landmarks.footLength];
    const crook = landmarks.crook;
    take(plantSeam(ground, marks.length, random.fork('seam'), toeBase, [crook[0], crook[1] + 4, crook[2]]));
  }
  for (let i = 0; i < ridges; i++) take(plantRidge(ground, marks.length, random.fork(`ridge ${i}`), overlap));
  const width = options.markWidth ?? [8, 28];
  const depth = options.markDepth ?? [0.3, 5];
  for (let i = 0; i < dents + bumps; i++) {
    const kind = i < dents ? 'dent' : 'bump';
    take(plantFinger(ground, marks.length, random.fork(`${kind} ${i}`), { kind, width, depth, regions: options.regions, overlap }));
  }
  return marks;
}

function distanceTo(field: Field, flipY: number): CastTruth['cleanDistance'] {
  const g = new Float64Array(3);
  return (x, y, z) => {
    // Newton steps along the gradient to the surface; the distance is that to the foot reached.
    const start = [x, flipY * y, z];
    const q = start.slice();
    const sign = Math.sign(field(q[0], q[1], q[2]));
    for (let step = 0; step < 4; step++) {
      const value = gradient(field, q[0], q[1], q[2], g);
      const square = g[0] * g[0] + g[1] * g[1] + g[2] * g[2];
      for (let k = 0; k < 3; k++) q[k] -= (value / square) * g[k];
      if (Math.abs(value) < 1e-7) break;
    }
    return sign * Math.hypot(q[0] - start[0], q[1] - start[1], q[2] - start[2]);
  };
}

const rotationOf = (m: Transform): Transform => m.map((c, i) => (i % 4 === 3 && i < 12 ? 0 : c));


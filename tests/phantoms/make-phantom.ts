import type { Mesh } from '@cast-to-last/geometry/mesh';
import { identity, invertRigid, transformMesh, transformPositions, type Transform } from '@cast-to-last/geometry/transform';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { buildSurface, keepTriangles, type Below } from './build-surface.js';
import { debris, holes, missingSole } from './damage.js';
import type { ExactMesh } from './densify.js';
import { fitFoot, roomFor, type FootDrawing } from './fit-foot.js';
import { bluntFoot } from './foot-blunt.js';
import { footOfBones } from './foot-bones.js';
import { footOfSections } from './foot-sections.js';
import { drawFoot, ODDITIES, type FootParameters } from './foot-parameters.js';
import { handles, opposites } from './halfedges.js';
import { Ground } from './ground.js';
import { gradient, smoothMax, type Field } from './implicit.js';
import type { Family, PhantomOptions } from './phantom-options.js';
import { plantFinger } from './plant-fingers.js';
import { plantRidge, plantSeam } from './plant-lines.js';
import { anyPose } from './pose.js';
import { randomFrom, type Random } from './random.js';
import { referenceFrame, seenFrom } from './reference/frame.js';
import { referenceMeasures } from './reference/measures.js';
import { regionOf } from './regions.js';
import { addScanNoise } from './scan-noise.js';
import type { CastTruth, PlantedMark } from './truth.js';
import { bandageWeave } from './weave.js';

export interface Phantom {
  readonly seed: number;
  /** What the scanner delivers, in mm, in the scan's own coordinates. */
  readonly scan: Mesh;
  /** The unit that the scan's file shall be written in: coordinates in mm × `unitsPerMm`. */
  readonly unit: 'mm' | 'cm' | 'm' | 'in';
  readonly truth: CastTruth;
  /** What was asked for and drawn, for reports. */
  readonly made: { readonly family: Family; readonly oddities: readonly string[]; readonly noise: number; readonly weave: number; readonly top: string; readonly missingSole: boolean; readonly debris: boolean; readonly holes: number };
}

export const UNITS_PER_MM = { mm: 1, cm: 0.1, m: 0.001, in: 1 / 25.4 } as const;

const DRAWINGS: { readonly [family in Family]: FootDrawing } = { bones: footOfBones, sections: footOfSections, blunt: bluntFoot };

/** A synthetic plaster cast with its exact truth; the same seed and options give the same cast bit for bit. */
export function makePhantom(seed: number, options: PhantomOptions = {}): Phantom {
  const random = randomFrom(seed);
  const family = options.family ?? drawFamily(random.fork('family'));
  const oddities = options.oddities ?? drawOddities(random.fork('oddities'));
  const draw = DRAWINGS[family];
  const top = options.top ?? random.fork('top').pick(['cut', 'cut', 'ragged', 'ragged', 'capped'] as const);
  const triangles = options.triangles ?? 250_000;
  const { built, dense, field, cap, height } = buildCast(draw, drawFoot(random.fork('foot'), oddities), top, triangles, random);

  const toFoot = referenceFrame(dense, 'right', field);
  const clean = transformMesh(toFoot, dense);
  const footField = seenFrom(field, toFoot);
  const { measures, landmarks } = referenceMeasures(clean, 'right', { field: footField, top: wholeUpTo(clean, cap && seenFrom(cap, toFoot)) });
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
  const kept = keepTriangles({ positions: rough, triangles: surface.triangles }, (t) => gone[t] === 0);
  const withDebris = options.debris ?? damage.chance(0.5);
  const extra = withDebris ? debris(surface, surface.normals, damage) : [];
  const pieces = join([kept.mesh, ...extra]);

  const left = (options.side ?? random.fork('side').pick(['left', 'right'] as const)) === 'left';
  const pose = options.posed === false ? identity() : anyPose(random.fork('pose'));
  const inFoot = left ? mirror(pieces) : pieces;
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
    clean: left ? mirror(clean) : { positions: clean.positions, triangles: clean.triangles },
    cleanDistance: distanceTo(footField, flipY),
    texture: (x, y, z) => texture(x, flipY * y, z),
    cleanPositions: perVertex(surface.positions, NaN),
    cleanNormals: perVertex(surface.normals, NaN),
    markHeights: Float64Array.from({ length: total }, (_, v) => (v < kept.from.length ? ground.heights[kept.from[v]] : 0)),
    markOf: Int32Array.from({ length: total }, (_, v) => (v < kept.from.length ? ground.markOf[kept.from[v]] : -1)),
  };
  return {
    seed,
    scan: transformMesh(pose, inFoot),
    unit: options.unit ?? random.fork('unit').pick(['mm', 'mm', 'mm', 'mm', 'm', 'cm', 'in'] as const),
    truth,
    made: { family, oddities, noise, weave, top, missingSole: soleGone, debris: withDebris, holes: holeCount },
  };
}

/** Draws, fits and meshes the clean cast; toes that touch and leave a tunnel between them are melted further together until none is left. */
function buildCast(draw: FootDrawing, drawn: FootParameters, top: string, triangles: number, random: Random) {
  let start = drawn;
  for (let attempt = 0; attempt < 6; attempt++) {
    const foot = fitFoot(draw, start);
    const { below, cap, height } = topCut(random.fork('cut'), foot.medialMalleolusHeight, foot.targets.length, top);
    const bare = draw(foot);
    const field: Field = cap ? (x, y, z) => smoothMax(bare(x, y, z), cap(x, y, z), 1.5) : bare;
    const room = roomFor(foot, height + 14);
    const dense = buildSurface(field, room, Math.max(triangles, 100_000), below, random.fork('dense'));
    if (handles(dense) === 0) {
      const built = triangles >= 100_000 ? dense : buildSurface(field, room, triangles, below, random.fork('mesh'));
      return { built, dense, field, cap, height };
    }
    start = { ...start, toeMerge: 1.3 * start.toeMerge };
  }
  throw new Error('the toes of this foot keep a tunnel between them');
}

function drawFamily(random: Random): Family {
  return random.pick(['bones', 'bones', 'sections', 'sections', 'blunt']);
}

/** How high the leg is whole, in the foot frame: the lowest point of the boundary, or of the cap. */
function wholeUpTo({ positions, triangles }: Mesh, cap: Field | null): number {
  let lowest = Infinity;
  const take = (v: number): void => {
    lowest = Math.min(lowest, positions[3 * v + 2]);
  };
  if (cap) {
    for (let v = 0; v < positions.length / 3; v++) if (cap(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]) > -2) take(v);
  } else {
    opposites(triangles, positions.length / 3).forEach((other, h) => {
      if (other < 0) take(triangles[h]);
    });
  }
  return lowest;
}

const drawOddities = (random: Random) => (random.chance(0.45) ? [random.pick(ODDITIES)] : []);

/** Where the cast ends above: 60 to 140 mm over the malleoli, tilted, level or ragged, or closed by a flat cap. */
function topCut(random: Random, malleolus: number, length: number, top: string): { below: Below; cap: Field | null; height: number } {
  const height = malleolus + random.between(60, 140);
  const tilt = [random.normal(0, 0.06), random.normal(0, 0.06)];
  const waves = [1, 2, 3, 5, 8].map((n) => ({ n, a: random.normal(0, 2.2 / Math.sqrt(n)), phase: random.between(0, 6.3) }));
  const plane = (x: number, y: number): number => height + tilt[0] * (x - 0.2 * length) + tilt[1] * y;
  if (top === 'capped') return { below: () => true, cap: (x, y, z) => z - plane(x, y), height: height + 8 };
  if (top === 'cut') return { below: (x, y, z) => z < plane(x, y), cap: null, height };
  const edge = (x: number, y: number): number => {
    const turn = Math.atan2(y, x - 0.2 * length);
    return plane(x, y) + waves.reduce((sum, w) => sum + w.a * Math.sin(w.n * turn + w.phase), 0);
  };
  return { below: (x, y, z) => z < edge(x, y), cap: null, height };
}

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

function mirror(mesh: Mesh): Mesh {
  const positions = mesh.positions.map((c, i) => (i % 3 === 1 ? -c : c));
  const triangles = mesh.triangles.slice();
  for (let t = 0; t < triangles.length; t += 3) [triangles[t + 1], triangles[t + 2]] = [triangles[t + 2], triangles[t + 1]];
  return { positions, triangles };
}

function join(meshes: readonly Mesh[]): Mesh {
  const positions = new Float64Array(meshes.reduce((n, m) => n + m.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((n, m) => n + m.triangles.length, 0));
  let p = 0;
  let t = 0;
  for (const m of meshes) {
    positions.set(m.positions, p);
    triangles.set(m.triangles.map((v) => v + p / 3), t);
    p += m.positions.length;
    t += m.triangles.length;
  }
  return { positions, triangles };
}

function mirrorLandmarks(l: Landmarks, m: (p: readonly number[]) => Point): Landmarks {
  const maybe = (p: Point | null): Point | null => p && m(p);
  return {
    footLength: l.footLength, pternion: m(l.pternion), toeTip: m(l.toeTip), heelCentre: m(l.heelCentre), ballCentre: m(l.ballCentre),
    medialBall: m(l.medialBall), lateralBall: m(l.lateralBall), instep: maybe(l.instep), waist: maybe(l.waist), crook: maybe(l.crook), heelCorner: m(l.heelCorner),
  };
}

import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { identity, invertRigid, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { ExactMesh } from '../surface/densify.js';
import { mirrorLandmarks, mirrorMesh } from '../surface/mirror-mesh.js';
import { anyPose } from '../scan/pose.js';
import { randomFrom } from '../random.js';
import { addScanNoise } from '../scan/scan-noise.js';
import { bandageWeave } from '../scan/weave.js';
import { assemble, OUTER, turnedRound } from './assemble.js';
import { bandageOutside } from './bandage.js';
import { drawCutError } from './cut-error.js';
import { trimSheet } from './cut-sheet.js';
import { cutTruth } from './girth-truth.js';
import { markedHeight } from './marked-height.js';
import { closeCut, openAlongCut, placesByCut, type OpenSheet } from './open-cut.js';
import { Opening } from './opening.js';
import { placeSheet, type Placing } from './place-sheet.js';
import { withScanHoles } from './scan-holes.js';
import { drawSeam } from './seam.js';
import type { Sections } from './sections.js';
import type { Sheet } from './sheet.js';
import { shellBodies } from './shell-bodies.js';
import { onSkin, plantShellMarks } from './shell-marks.js';
import type { Delivered, ShellOptions } from './shell-options.js';
import type { ShellTruth } from './shell-truth.js';
import { meanWall, meshArea, weakPlaces } from './skin-quantities.js';
import { vertexNormals } from './vertex-normals.js';
import type { Wall } from './wall.js';
import { outsideHole } from './weak-places.js';

export interface Shell {
  readonly seed: number;
  /** What the scanner delivers, in mm, in the scan's own coordinates. */
  readonly scan: Mesh;
  readonly unit: 'mm' | 'cm' | 'm' | 'in';
  readonly truth: ShellTruth;
  /** What was asked for and drawn, for reports. */
  readonly made: {
    readonly delivered: Delivered; readonly family: string; readonly oddities: readonly string[]; readonly top: string; readonly facing: 'in' | 'out'; readonly mirrored: boolean;
    readonly joined: boolean; readonly swing: number; readonly noise: number; readonly holes: number;
  };
}

/** A synthetic scan of a plaster shell, or of the positive poured in it, with its exact truth; the same seed and options give the same bit for bit. */
export function makeShell(seed: number, options: ShellOptions = {}): Shell {
  const random = randomFrom(seed, 'shell');
  const delivered = options.delivered ?? random.fork('delivered').pick(['positive', 'outside', 'inside', 'two-sided'] as const);
  const two = delivered === 'two-sided';
  const top = options.top ?? random.fork('top').pick(delivered === 'outside' ? (['open', 'rim', 'rim', 'capped'] as const) : (['open', 'open', 'rim'] as const));
  const joined = options.joined ?? random.fork('joined').chance(0.6);
  const nominal = options.wall ?? random.fork('wall').between(2, 8);
  const swing = options.swing ?? (random.fork('swing').chance(0.5) ? 0 : random.fork('swing size').between(0.05, 0.15));
  const triangles = (options.triangles ?? 60_000) / (two ? 2 : 1);
  const needsOuter = two || delivered === 'outside' || (delivered === 'inside' && top === 'rim');
  const { foot, sections, start, wall, broken, thin, outer } = shellBodies(random, options, { nominal, swing, triangles, needsOuter });

  const error = drawCutError(random.fork('cut error'), { kind: options.cut ?? 'sound', size: options.cutSize, atInstep: options.cutAtInstep, wall: nominal }, { start, instep: alongOf(sections, foot.landmarks.instep ?? foot.landmarks.ballCentre), top: sections.last - 12 });
  const opening = new Opening(sections, error.gap, error.bend);
  const { skin, edge, landmarks, whole } = foot;
  const counts = random.fork('counts');
  const few = (high: number): number => (options.bare === true ? 0 : counts.whole(0, high));
  const marks = plantShellMarks(skin, landmarks, whole, random.fork('marks'), {
    through: delivered === 'positive' ? 0 : few(3), outside: needsOuter ? few(5) : 0, inside: few(delivered === 'positive' ? 7 : 3),
    keepClear: nearAny(skin.mesh, [...thin, ...broken].map((w) => w.centre), 26),
  });
  const seam = options.seam ?? random.fork('seamed').chance(0.8) ? drawSeam(random.fork('seam'), start) : () => 0;
  const opens = !['sound', 'warp'].includes(error.kind);
  const opened = (sheet: Sheet, of: Wall | null): OpenSheet => (opens ? openAlongCut(sheet, sections, start, skin, of) : unopened(sheet, sections));
  const [onInner, onOuter] = [onSkin(skin, marks.inner), onSkin(skin, marks.outer)];
  const pitch = Math.sqrt((2.3 * meshArea(foot.inner)) / (foot.inner.triangles.length / 3));

  const finished = (sheet: Sheet, of: Wall | null): { mesh: Mesh; open: OpenSheet; placing: Placing } => {
    const open = opened(sheet, of);
    const q = open.sheet.foot;
    const on = of ? onOuter : onInner;
    const height = (v: number): number => on(q[3 * v], q[3 * v + 1], q[3 * v + 2]) + (Number.isNaN(open.byCut[3 * v]) ? 0 : seam(open.byCut[3 * v + 2], open.byCut[3 * v]));
    const placing: Placing = { sections, skin, error, opening, seenFrom: of ? 'outside' : 'inside', height };
    const placed = placeSheet(open, placing);
    return { mesh: closeCut(open, placed.positions, placed.normals, error.strip, pitch, 0.15 * pitch), open, placing };
  };
  const cutOut = (sheet: Sheet, of: Wall | null): Sheet =>
    broken.reduce((s, hole) => trimSheet(s, outsideHole(hole), skin, of), trimSheet(sheet, (x, y, z) => edge(x, y) - z, skin, of));
  const innerDone = finished(cutOut(flatSheet(foot.inner), null), null);
  const outerDone = outer && finished(cutOut(outer, wall), wall);
  const denseOpen = foot.inner === skin.mesh && broken.length === 0 ? innerDone.open : opened(trimSheet(flatSheet(skin.mesh), (x, y, z) => edge(x, y) - z, skin, null), null);

  const { mesh, sheetOf } = assemble(outerDone?.mesh ?? null, innerDone.mesh, { delivered, top, joined, pitch });
  const rough = { positions: mesh.positions.slice(), triangles: mesh.triangles };
  const normals = vertexNormals(rough);
  const weave = (subject: string, most: number): number => options.weave ?? random.fork(subject).between(0.02, most);
  const inside = bandageWeave(random.fork('texture inside'), weave('weave inside', 0.1), 0);
  const outside = bandageOutside(random.fork('texture outside'), sections.spine, weave('weave outside', 0.12), options.bandageEdge ?? (random.fork('edges').chance(0.3) ? 0 : random.fork('edge').between(0.05, 0.35)));
  for (let v = 0; v < sheetOf.length; v++) {
    const [x, y, z] = mesh.positions.subarray(3 * v, 3 * v + 3);
    const h = sheetOf[v] === OUTER ? outside(x, y, z) : inside(x, y, z);
    for (let k = 0; k < 3; k++) rough.positions[3 * v + k] += h * normals[3 * v + k];
  }
  const noise = options.noise ?? random.fork('noise').between(0.02, 0.08);
  addScanNoise(rough.positions, normals, noise, random.fork('scanner'));
  const damage = random.fork('damage');
  const holeCount = options.holes ?? (two && damage.chance(0.6) ? 0 : damage.whole(0, 4));
  const scanned = withScanHoles({ mesh: rough, sheetOf }, holeCount, damage);

  const mirrored = delivered === 'inside' && (options.mirrored ?? false);
  const facing = options.facing ?? random.fork('facing').pick(['in', 'in', 'out'] as const);
  const left = (options.side ?? random.fork('side').pick(['left', 'right'] as const)) === 'left';
  const pose = options.posed === false ? identity() : anyPose(random.fork('pose'));
  const sided = left ? mirrorMesh(scanned.mesh) : scanned.mesh;
  const posed = transformMesh(pose, delivered === 'inside' && facing === 'out' ? turnedRound(sided) : sided);
  // A mirror turns the triangles' sense round, so a scan that faced right still does in its own coordinates.
  const given = mirrored ? mirrorMesh(posed) : posed;
  const flip = left ? -1 : 1;
  const away = markedHeight(sections, onSkin(skin, marks.inner.map((h, v) => Math.max(Math.abs(h), Math.abs(marks.outer[v])))), seam, error);
  return {
    seed,
    scan: given,
    unit: options.unit ?? random.fork('unit').pick(['mm', 'mm', 'mm', 'mm', 'm', 'cm', 'in'] as const),
    truth: {
      side: left ? 'left' : 'right', transform: invertRigid(pose), landmarks: mirrorLandmarks(landmarks, (p) => [p[0], flip * p[1], p[2]]), measures: foot.measures,
      skin, edge, outer, wall, nominalWall: nominal, meanWall: meanWall(foot, wall), weak: weakPlaces(foot, wall, nominal, thin, broken, flip),
      cut: cutTruth(foot, denseOpen, innerDone.placing, start), marked: away,
    },
    made: { delivered, family: foot.family, oddities: foot.oddities, top, facing, mirrored, joined, swing, noise, holes: holeCount },
  };
}

const flatSheet = (mesh: ExactMesh): Sheet => ({ positions: mesh.positions, triangles: mesh.triangles, foot: mesh.positions, normals: mesh.normals, straight: new Uint8Array(mesh.positions.length / 3).fill(1) });

const alongOf = (sections: Sections, [x, , z]: readonly number[]): number => sections.spine.locate(x, z, { along: 0, off: 0 }).along;

/** A sheet that was closed without a trace: its places by the cut, and no edges. */
function unopened(sheet: Sheet, sections: Sections): OpenSheet {
  const byCut = placesByCut(sheet.foot, sections);
  const flap = Int8Array.from({ length: sheet.straight.length }, (_, v) => (byCut[3 * v + 1] < 0 ? -1 : 1));
  return { sheet, byCut, flap, medial: [], lateral: [], medialRunsUp: true };
}

/** Whether a vertex lies within `reach` mm of one of the places. */
function nearAny({ positions: p }: Mesh, places: readonly (readonly number[])[], reach: number): (vertex: number) => boolean {
  return (v) => places.some((c) => Math.hypot(p[3 * v] - c[0], p[3 * v + 1] - c[1], p[3 * v + 2] - c[2]) < reach);
}

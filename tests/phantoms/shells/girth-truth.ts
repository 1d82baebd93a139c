import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { trim } from '../surface/build-surface.js';
import { cut, inPlane } from '../reference/cut.js';
import { tapeWithY } from '../reference/measures.js';
import { tapeLength } from '../reference/tape.js';
import { closeCut, type OpenSheet } from './open-cut.js';
import { placeSheet, type Placing } from './place-sheet.js';
import type { Sections } from './sections.js';
import type { ShellFoot } from './shell-foot.js';
import type { CutTruth, GirthId } from './shell-truth.js';

const DEGREE = Math.PI / 180;

/** Where a tape lies: through the highest point at x, tilted by so many degrees from upright. */
interface TapePlace {
  readonly x: number;
  readonly tilt: number;
}

function topAt(mesh: Mesh, x: number): Point {
  const { segments } = cut(mesh, [1, 0, 0], x);
  let top: Point = [x, 0, -Infinity];
  for (let i = 0; i < segments.length; i += 3) if (segments[i + 2] > top[2]) top = [segments[i], segments[i + 1], segments[i + 2]];
  return top;
}

const tapeAt = (mesh: Mesh, { x, tilt }: TapePlace): number => tapeWithY(mesh, topAt(mesh, x), [Math.sin(tilt * DEGREE), Math.cos(tilt * DEGREE)]) ?? NaN;

/** The tilt of the smallest tape through the highest point at the landmark's x, among those that the definition allows. */
function tapePlace(mesh: Mesh, landmark: Point | null): TapePlace {
  const x = landmark ? landmark[0] : NaN;
  let best = { tilt: 0, tape: Infinity };
  const attempt = (tilt: number): void => {
    const tape = tapeAt(mesh, { x, tilt });
    if (tape < best.tape) best = { tilt, tape };
  };
  for (let tilt = -20; tilt <= 60; tilt += 4) attempt(tilt);
  const rough = best.tilt;
  for (let tilt = Math.max(-20, rough - 3); tilt <= Math.min(60, rough + 3); tilt++) attempt(tilt);
  return { x, tilt: best.tilt };
}

/** Tape in the upright plane through both ball points. */
function ballTape(mesh: Mesh, { medialBall, lateralBall }: Landmarks): number {
  const across = [lateralBall[0] - medialBall[0], lateralBall[1] - medialBall[1]];
  const l = Math.hypot(across[0], across[1]);
  const u: Point = [across[0] / l, across[1] / l, 0];
  return tapeLength(inPlane(cut(mesh, [-u[1], u[0], 0], -u[1] * medialBall[0] + u[0] * medialBall[1]).segments, u, [0, 0, 1]));
}

/**
 * How much the three girths grow from one surface to the other, by the reference's tapes laid where they lie on the first:
 * neither the frame nor the ball points nor the tapes' tilts are sought anew. On a shell that gapes the outermost points
 * may slide along by centimetres, and the smallest tape evades what gapes.
 */
function girthChanges(before: Mesh, after: Mesh, landmarks: Landmarks): { [id in GirthId]: number } {
  const grown = (landmark: Point | null): number => {
    const place = tapePlace(before, landmark);
    return tapeAt(after, place) - tapeAt(before, place);
  };
  return { 'ball-girth': ballTape(after, landmarks) - ballTape(before, landmarks), 'waist-girth': grown(landmarks.waist), 'instep-girth': grown(landmarks.instep) };
}

/**
 * What the closing error does, read off the clean skin before and after.
 * `open` is the opened dense inner sheet.
 */
export function cutTruth(foot: ShellFoot, open: OpenSheet, placing: Placing, start: number): CutTruth {
  const { sections, error } = placing;
  const path = coursePoints(sections, start);
  const none = { 'ball-girth': 0, 'waist-girth': 0, 'instep-girth': 0 };
  const common = { kind: error.kind, widest: error.widest, path };
  if (error.kind === 'sound') return { ...common, girthChange: none, gap: none, step: 0 };
  const steps = edgeSteps(open, placing);
  let girthChange = none;
  if (error.widest !== 0 || error.warp) {
    const { positions, normals } = placeSheet(open, { ...placing, height: undefined, shelf: false, lip: false });
    const after = closeCut(open, positions, normals, () => 0, 2, 0.05);
    const whole = trim(foot.skin.mesh, (x, y, z) => z < foot.edge(x, y));
    girthChange = girthChanges(whole, after, foot.landmarks);
  }
  return { ...common, girthChange, gap: gapsUnderTapes(sections, error.gap, foot.landmarks), step: held(steps, 10) };
}

/** Points in the middle of the cut, about every 3 mm. */
function coursePoints(sections: Sections, start: number): Float64Array {
  const points: number[] = [];
  for (let along = start; along <= sections.last; along += 3) points.push(...sections.point(along, 0));
  return Float64Array.from(points);
}

/** Height of the medial edge over the lateral one along the cut, mm, without kinks. */
function edgeSteps(open: OpenSheet, placing: Placing): { along: number; step: number }[] {
  const { positions, normals } = placeSheet(open, { ...placing, height: undefined, lip: false, error: { ...placing.error, warp: null } });
  return open.medial.map((m, i) => {
    const l = open.lateral[i];
    let step = 0;
    for (let k = 0; k < 3; k++) step += (positions[3 * m + k] - positions[3 * l + k]) * 0.5 * (normals[3 * m + k] + normals[3 * l + k]);
    return { along: open.byCut[3 * m], step };
  });
}

/** The greatest height that the step keeps, to one side, over `length` mm. */
function held(steps: readonly { along: number; step: number }[], length: number): number {
  let best = 0;
  for (let i = 0; i < steps.length; i++) {
    let least = Infinity;
    let j = i;
    for (; j < steps.length && steps[j].along - steps[i].along < length; j++) least = Math.min(least, Math.sign(steps[i].step) * steps[j].step);
    if (j < steps.length) best = Math.max(best, least);
  }
  return best;
}

/** The gap where the cut comes nearest to each tape: ball plane, waist point, instep point. */
function gapsUnderTapes(sections: Sections, gap: (along: number) => number, { medialBall, lateralBall, waist, instep }: Landmarks): CutTruth['gap'] {
  const nearest = (far: (p: readonly number[]) => number): number => {
    let [best, least] = [0, Infinity];
    for (let along = sections.first; along <= sections.last; along += 1) {
      const d = far(sections.point(along, 0));
      if (d < least) [best, least] = [gap(along), d];
    }
    return best;
  };
  const to = (q: readonly number[] | null) => (p: readonly number[]): number => (q ? Math.abs(p[0] - q[0]) : Infinity);
  const [ax, ay] = [lateralBall[0] - medialBall[0], lateralBall[1] - medialBall[1]];
  const ball = (p: readonly number[]): number => Math.abs(ax * (p[1] - medialBall[1]) - ay * (p[0] - medialBall[0]));
  return { 'ball-girth': nearest(ball), 'waist-girth': nearest(to(waist)), 'instep-girth': nearest(to(instep)) };
}

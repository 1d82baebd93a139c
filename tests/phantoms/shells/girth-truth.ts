import type { Mesh } from '@cast-to-last/geometry/mesh';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import { trim } from '../build-surface.js';
import { cut, inPlane } from '../reference/cut.js';
import { smallestTilted } from '../reference/measures.js';
import { tapeLength } from '../reference/tape.js';
import { closeCut, type OpenSheet } from './open-cut.js';
import { placeSheet, type Placing } from './place-sheet.js';
import type { Sections } from './sections.js';
import type { ShellFoot } from './shell-foot.js';
import type { CutTruth, GirthId } from './shell-truth.js';

/**
 * The three girths at the places that the landmarks of the sound foot name, by the reference's tapes: the upright plane
 * through both ball points, and the smallest tape through the highest point at the waist's and the instep's x. The frame
 * and the ball points are not sought anew: on a shell that gapes the outermost points may slide along by centimetres.
 */
function girths(mesh: Mesh, { medialBall, lateralBall, waist, instep }: Landmarks): { [id in GirthId]: number } {
  const across = [lateralBall[0] - medialBall[0], lateralBall[1] - medialBall[1]];
  const l = Math.hypot(across[0], across[1]);
  const u: Point = [across[0] / l, across[1] / l, 0];
  const ball = cut(mesh, [-u[1], u[0], 0], -u[1] * medialBall[0] + u[0] * medialBall[1]);
  const over = (q: Point | null): number => {
    const { segments } = cut(mesh, [1, 0, 0], q ? q[0] : NaN);
    let top: Point | null = null;
    for (let i = 0; i < segments.length; i += 3) if (!top || segments[i + 2] > top[2]) top = [segments[i], segments[i + 1], segments[i + 2]];
    return (top && smallestTilted(mesh, top)) ?? NaN;
  };
  return { 'ball-girth': tapeLength(inPlane(ball.segments, u, [0, 0, 1])), 'waist-girth': over(waist), 'instep-girth': over(instep) };
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
    const [was, is] = [girths(whole, foot.landmarks), girths(after, foot.landmarks)];
    girthChange = { 'ball-girth': is['ball-girth'] - was['ball-girth'], 'waist-girth': is['waist-girth'] - was['waist-girth'], 'instep-girth': is['instep-girth'] - was['instep-girth'] };
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

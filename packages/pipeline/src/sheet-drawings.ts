import { isTaken } from '@cast-to-last/foot/measures';
import type { MeasureId, TapeLine } from '@cast-to-last/foot/measures';
import type { Side } from '@cast-to-last/foot/side';
import { medialSign } from '@cast-to-last/foot/side';
import { silhouette } from '@cast-to-last/geometry/contour-lines';
import { simplifyLine } from '@cast-to-last/geometry/simplify-line';
import { project, viewMesh, visiblePoints } from '@cast-to-last/geometry/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/view';
import type { SheetDrawing, SheetLine, SheetTape } from '@cast-to-last/sheet/content';
import type { Mark, MeasuredCast } from './records.js';
import { viewContours } from './view-contours.js';

/** Lengths in mm of the cast; at the scales that fit a page, a sample is a quarter of a millimetre on paper or less. */
const SAMPLE = 0.5;
/** Height between contour lines. */
const CONTOUR_STEP = 10;
/** How far behind the surface that is seen a point may lie and still be drawn: a tape leans on it, a dent lies in it. */
const TAPE_SLACK = 1.5;
const MARK_SLACK = 6;
/** Longest step along a tape between tests of what is seen. */
const TAPE_STEP = 2;

const GIRTH_LETTERS: Partial<Record<MeasureId, string>> = {
  'ball-girth': 'A', 'waist-girth': 'B', 'instep-girth': 'C', 'short-heel-girth': 'D', 'long-heel-girth': 'E', 'ankle-girth': 'F',
};

interface Direction {
  readonly title: string;
  readonly axes: ViewAxes;
  readonly showsRestPlane: boolean;
  readonly girths: readonly MeasureId[];
}

const ALL_GIRTHS = Object.keys(GIRTH_LETTERS) as MeasureId[];
const HEEL_GIRTHS: readonly MeasureId[] = ['short-heel-girth', 'long-heel-girth', 'ankle-girth'];

/** The toes point right where the viewer allows it: seen from below, and from the side on which −Y is. */
function directions(side: Side): Direction[] {
  const fromMinusY: ViewAxes = { right: [1, 0, 0], up: [0, 0, 1] };
  const fromPlusY: ViewAxes = { right: [-1, 0, 0], up: [0, 0, 1] };
  const medialIsPlusY = medialSign(side) > 0;
  return [
    { title: 'Sole, from below', axes: { right: [1, 0, 0], up: [0, -1, 0] }, showsRestPlane: false, girths: ALL_GIRTHS },
    { title: 'Inside (medial)', axes: medialIsPlusY ? fromPlusY : fromMinusY, showsRestPlane: true, girths: ALL_GIRTHS },
    { title: 'Outside (lateral)', axes: medialIsPlusY ? fromMinusY : fromPlusY, showsRestPlane: true, girths: ALL_GIRTHS },
    { title: 'From behind', axes: { right: [0, -1, 0], up: [0, 0, 1] }, showsRestPlane: true, girths: HEEL_GIRTHS },
  ];
}

/** The four outline drawings of the cleaned cast with the girths' tapes and the marks that each view shows. */
export function sheetDrawings(measured: MeasuredCast, marks: readonly Mark[], side: Side): SheetDrawing[] {
  return directions(side).map(({ title, axes, showsRestPlane, girths }) => {
    const view = viewMesh(measured.mesh, axes, SAMPLE);
    return {
      title,
      outline: silhouette(view),
      contours: viewContours(view, CONTOUR_STEP),
      tapes: tapes(view, measured, girths),
      marks: seenMarks(view, marks),
      restLine: showsRestPlane ? 0 : null,
    };
  });
}

function tapes(view: View, { measurements }: MeasuredCast, girths: readonly MeasureId[]): SheetTape[] {
  const drawn: SheetTape[] = [];
  for (const m of measurements) {
    const letter = GIRTH_LETTERS[m.id];
    if (letter === undefined || !girths.includes(m.id) || !isTaken(m) || m.tape === undefined) continue;
    drawn.push({ letter, label: m.label, lines: seenRuns(view, dense(m.tape)) });
  }
  return drawn;
}

/** The closed tape with points no further apart than TAPE_STEP, its first point again at the end. */
function dense(tape: TapeLine): Float64Array {
  const points: number[] = [];
  for (let i = 0; i < tape.length; i += 3) {
    const j = (i + 3) % tape.length;
    const steps = Math.max(1, Math.ceil(Math.hypot(tape[j] - tape[i], tape[j + 1] - tape[i + 1], tape[j + 2] - tape[i + 2]) / TAPE_STEP));
    for (let s = 0; s < steps; s++) for (let k = 0; k < 3; k++) points.push(tape[i + k] + (s / steps) * (tape[j + k] - tape[i + k]));
  }
  points.push(...points.slice(0, 3));
  return Float64Array.from(points);
}

function seenRuns(view: View, points: Float64Array): SheetLine[] {
  const seen = visiblePoints(view, points, TAPE_SLACK);
  const paper = project(view.axes, points);
  const runs: SheetLine[] = [];
  let run: number[] = [];
  for (let i = 0; i <= seen.length; i++) {
    if (i < seen.length && seen[i] === 1) {
      run.push(paper[3 * i], paper[3 * i + 1]);
      continue;
    }
    if (run.length >= 4) runs.push({ points: simplifyLine(Float64Array.from(run), 0.1, false), closed: false });
    run = [];
  }
  return runs;
}

function seenMarks(view: View, marks: readonly Mark[]): SheetDrawing['marks'] {
  const centres = Float64Array.from(marks.flatMap((m) => [...m.centre]));
  const seen = visiblePoints(view, centres, MARK_SLACK);
  const paper = project(view.axes, centres);
  return marks.flatMap((m, i) => (seen[i] === 1 ? [{ id: m.id, at: [paper[3 * i], paper[3 * i + 1]] as const }] : []));
}

import type { TapeLine } from '@cast-to-last/foot/measures';
import { simplifyLine } from '@cast-to-last/geometry/sections/simplify-line';
import { project, visiblePoints } from '@cast-to-last/geometry/views/view';
import type { View } from '@cast-to-last/geometry/views/view';
import type { SheetLine } from '@cast-to-last/sheet/measurement/content';

/** How far behind the surface that is seen a tape may lie and still be drawn: it leans on it, mm. */
const TAPE_SLACK = 3;
/** Longest step along a tape between tests of what is seen, mm. */
const TAPE_STEP = 2;

/** The parts of a closed tape that the viewer sees. */
export function seenLines(view: View, tape: TapeLine): SheetLine[] {
  const points = dense(tape);
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

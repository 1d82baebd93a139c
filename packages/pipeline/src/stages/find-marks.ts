import type { AlignedCast, InspectedCast } from '../records.js';
import type { Decisions } from '../decisions.js';
import type { MarkRules } from '../rules/rules.js';
import { groundOf } from '../marks/ground.js';
import { findCrests } from '../marks/crests.js';
import type { DecisionRules } from '../marks/decide.js';
import { decide, unmetDecisions } from '../marks/decide.js';
import { depthOver } from '../marks/depth-over.js';
import type { Dot } from '../marks/dots.js';
import { findDots } from '../marks/dots.js';
import { edgeBeside } from '../marks/edge-foot.js';
import { ExtentFinder } from '../marks/extent.js';
import { FairSurface } from '../marks/fair-surface.js';
import type { FoundMark } from '../marks/found-mark.js';
import type { InspectionSurface } from '../marks/inspection-surface.js';
import { WIDEST_FOR_LINES, inspectionSurface } from '../marks/inspection-surface.js';
import { learnedHeights } from '../marks/learned/learned-heights.js';
import { MEND } from '../marks/mend.js';
import { isPressedFlat, isSoleEdge } from '../marks/pressed-sole.js';
import type { Ridge } from '../marks/ridges.js';
import { RIDGES, dropShadows, isAhead, isHollowBeside, linkRidges } from '../marks/ridges.js';
import { isRippled } from '../marks/ripples.js';
import { roughness } from '../marks/roughness.js';
import { findSeam } from '../marks/seam.js';
import { widenRidge } from '../marks/widen-ridge.js';
import { withoutMarks } from '../marks/without-marks.js';

/** Finds the marks that hands, bandage and cut left on a cast, and proposes what becomes of each. */
export function findMarks(cast: AlignedCast, { marks: rules, smoothing }: DecisionRules, decisions: Decisions): InspectedCast {
  const bare = inspectionSurface(cast.mesh, cast.filled, cast.opening === null, cast.landmarks.footLength);
  const learned = learnedHeights(bare);
  const surface = { ...bare, learned };
  const rough = roughness(surface);
  const dots = findDots(surface, new ExtentFinder(surface), learned, rules.minDepthMm).map(asDot).filter((dot) => !isPressedFlat(surface, dot));
  // As it will be once they are smoothed, so that their flanks are not taken for others.
  const clean = withoutMarks(surface, dots);
  const found = dots.map((mark) => ({ ...mark, depth: depthOver(clean, surface, mark) })).filter(({ depth }) => Math.abs(depth) >= rules.minDepthMm);
  const lines = surface.spacing <= WIDEST_FOR_LINES ? findLines(clean, cast, found, rules, rough) : NO_LINES;
  found.push(...lines.marks);
  found.sort((a, b) => a.centre[0] - b.centre[0] || a.centre[1] - b.centre[1]);
  const marks = decide(found, cast, { marks: rules, smoothing }, decisions);
  return { marks, surface, roughness: rough, rippled: lines.rippled, warnings: unmetDecisions(marks, decisions) };
}

/** The seam and the ridges; none where the surface is rippled. */
interface Lines {
  readonly marks: readonly FoundMark[];
  readonly rippled: boolean;
}

/** How many times the height of its crest a line can stand off: broad edges do by up to 2.1 times (generated casts of the tuning range). */
const MOST_OVER_CREST = 3;

const NO_LINES: Lines = { marks: [], rippled: false };

function findLines(surface: InspectionSurface, cast: AlignedCast, dots: readonly FoundMark[], rules: MarkRules, rough: number): Lines {
  const least = Math.min(0.3, rules.minDepthMm);
  const ground = groundOf(cast.landmarks);
  const p = surface.mesh.positions;
  const crests = findCrests(surface);
  const isBody = (v: number): boolean => ground.kindAt(p.subarray(3 * v, 3 * v + 3)) === 'body';
  if (isRippled(surface, crests, rough, isBody)) return { marks: [], rippled: true };
  // A bandage's edge runs on over the roots of the toes; hollows there are the toes' own.
  const mayRun = (v: number): boolean => isBody(v) || (crests.steady[v] > 0 && !ground.onFreeToes(p.subarray(3 * v, 3 * v + 3)));
  const ridges = linkRidges(surface, crests, rough, mayRun).filter((ridge) => ridge.height >= RIDGES.highAhead || !isAhead(ridge, isBody));
  const way = rules.findSeam ? findSeam(surface, crests, cast.landmarks) : null;
  const seam = way === null || isHollowBeside(surface, way, ridges) ? null : way;
  const found: FoundMark[] = seam === null ? [] : [asMark('seam', seam)];
  if (rules.findRidges) {
    const fair = new FairSurface(surface);
    const taken = Uint32Array.from([...dots, ...(seam === null ? [] : [seam])].flatMap((mark) => [...mark.vertices]));
    for (const ridge of dropShadows(surface, ridges, taken)) {
      if (Math.abs(ridge.height) < least) continue;
      const line = asMark('ridge', widenRidge(surface, fair, ridge, rough));
      const mark = line.depth < 0 ? edgeBeside(surface, line) : line;
      if (!isSoleEdge(surface, line) && !isSoleEdge(surface, mark)) found.push(mark);
    }
  }
  return { marks: overMended(surface, found).filter(({ depth }) => Math.abs(depth) >= least), rippled: false };
}

/**
 * A crest tells the height of its line over the flanks; how far the line stands off is read over what takes its place, as of
 * dots. What would be laid by far more than the crest is high is no longer what was found, and left as it is.
 */
function overMended(surface: InspectionSurface, lines: readonly FoundMark[]): FoundMark[] {
  if (lines.length === 0) return [];
  const clean = withoutMarks(surface, lines);
  return lines.flatMap((line) => {
    const depth = depthOver(clean, surface, line);
    if (line.kind === 'ridge') return Math.abs(depth) > MOST_OVER_CREST * Math.abs(line.depth) ? [] : [{ ...line, depth }];
    // A seam can have a ridge, a hollow and a step beside each other.
    const other = depthOver(clean, surface, { ...line, depth: -line.depth });
    return [{ ...line, depth: Math.abs(other) > Math.abs(depth) ? other : depth }];
  });
}

const asMark = (kind: 'ridge' | 'seam', ridge: Ridge): FoundMark => ({
  kind,
  centre: ridge.centre,
  depth: ridge.height,
  area: ridge.area,
  length: ridge.length,
  width: ridge.width,
  vertices: ridge.vertices,
  centreVertex: ridge.centreVertex,
  margin: MEND.margin,
});

const asDot = (dot: Dot): FoundMark => ({ kind: dot.depth < 0 ? 'dent' : 'bump', ...dot });

import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import type { Ground, JoinedPlace, Place } from './accept.js';
import { SCORE, couldBeMark, joinPlaces, scoreOf, scoreRange } from './accept.js';
import type { Extent, ExtentFinder } from './extent.js';
import type { InspectionSurface } from './inspection-surface.js';
import type { Spot } from './spots.js';
import { findSpots } from './spots.js';

/** Distance within which a newly accepted mark changes what steers another's fair surface, mm. */
const INFLUENCE = 40;

interface Candidate {
  readonly place: Place;
  readonly score: number;
  /** How many marks had been accepted when it was measured. */
  readonly measuredAt: number;
}

/**
 * Dents and bumps: of all places the likeliest is accepted first; it then steers nothing, and the places round it are
 * measured again without it, so that a mark's rim or flank is not taken for another mark.
 */
export function findDots(surface: InspectionSurface, finder: ExtentFinder, ground: Ground, leastDepth: number): Extent[] {
  const p = surface.mesh.positions;
  const measured: { spot: Spot; extent: Extent }[] = [];
  for (const spot of findSpots(surface)) {
    const least = spot.gap >= SCORE.wideFrom ? SCORE.leastWideSpot : SCORE.leastSpot;
    if (Math.abs(spot.height) < least || spot.evenness < SCORE.leastEvenness || finder.masked[spot.vertex] === 1) continue;
    const extent = knownExtent(measured, spot, p) ?? finder.find(spot, (rough) => !couldBeMark(rough, spot, ground, leastDepth));
    if (extent !== null) measured.push({ spot, extent });
  }
  /** The ground beside a place is measured only where it decides. */
  const asCandidate = (joined: JoinedPlace, measuredAt: number): Candidate => {
    const unmeasured = { ...joined, beside: NaN };
    const { best, worst } = scoreRange(joined, ground, leastDepth);
    if (worst > 0 || best <= 0) return { place: unmeasured, score: best <= 0 ? best : scoreOf(unmeasured, ground, leastDepth), measuredAt };
    const place = { ...joined, beside: finder.groundBeside(joined.extent) };
    return { place, score: scoreOf(place, ground, leastDepth), measuredAt };
  };
  const open = joinPlaces(measured)
    .map((place) => asCandidate(place, 0))
    .filter((candidate) => candidate.score > SCORE.leastForSecondLook);
  const accepted: Extent[] = [];
  while (open.length > 0) {
    let best = 0;
    for (let i = 1; i < open.length; i++) if (open[i].score > open[best].score) best = i;
    const candidate = open[best];
    open[best] = open[open.length - 1];
    open.pop();
    const { extent, spot } = candidate.place;
    if (finder.masked[extent.centreVertex] === 1 || finder.masked[spot.vertex] === 1) continue;
    if (accepted.some((mark) => isRimOf(extent, mark))) continue;
    const stale = accepted.some(
      (mark, i) => i >= candidate.measuredAt && apart(mark.centre, p, 3 * spot.vertex) < INFLUENCE,
    );
    if (stale) {
      const again = finder.find(spot);
      const renewed = again === null ? null : asCandidate({ ...candidate.place, extent: again }, accepted.length);
      if (renewed !== null && renewed.score > SCORE.leastForSecondLook) open.push(renewed);
      continue;
    }
    if (candidate.score <= 0) continue;
    for (const v of extent.vertices) finder.masked[v] = 1;
    accepted.push(extent);
  }
  return accepted.filter((mark, i) => !accepted.slice(i + 1).some((later) => covers(later, mark)));
}

/** The extent of a place already measured that this spot is only another gap's view of: in its middle, and no higher than it is deep. */
function knownExtent(measured: readonly { spot: Spot; extent: Extent }[], spot: Spot, p: Float64Array): Extent | null {
  for (const { extent } of measured) {
    const height = spot.height / extent.depth;
    if (height < 0 || height > 1.08 || extent.growth > 1.12) continue;
    const away = apart(extent.centre, p, 3 * spot.vertex);
    if (away < Math.min(SCORE.samePlace, extent.width / 4) && spot.gap < 0.75 * extent.width) return extent;
  }
  return null;
}

/** Whether a mark was only a part of another, which covers its middle. */
const covers = (whole: Extent, part: Extent): boolean => whole.depth * part.depth > 0 && whole.vertices.includes(part.centreVertex);

/** Whether an extent is the raised or sunken rim of a deeper mark of the other sign beside it. */
function isRimOf(extent: Extent, mark: Extent): boolean {
  if (extent.depth * mark.depth > 0 || Math.abs(extent.depth) > SCORE.rimShare * Math.abs(mark.depth)) return false;
  return apart(mark.centre, extent.centre, 0) < (mark.length + extent.width) / 2 + 2;
}

/** Distance from a point to the one that begins at `at` among others, mm. */
const apart = (a: ArrayLike<number>, points: ArrayLike<number>, at: number): number => length3(a[0] - points[at], a[1] - points[at + 1], a[2] - points[at + 2]);

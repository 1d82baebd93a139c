import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { CastError } from '../../errors.js';
import type { TopRules } from '../../rules/last-rules.js';
import { extentOfTop, middleOfTop, spanAt } from './flat-top.js';
import type { FlatTop } from './flat-top.js';
import { wallAround } from './hole-walls.js';
import type { TopHole } from './hole-walls.js';

/** Thinner walls than this break when the last is worked on, mm: common practice, no source. */
export const THINNEST_WALL = 2;

interface NamedHole extends TopHole {
  readonly kind: 'thimble' | 'pin';
  readonly name: string;
  readonly rule: string;
  /** What else to do than drill less deep. */
  readonly instead: string;
}

/**
 * The thimble hole in the middle of the flat top, and the pin holes: `along` is the share of the top's length from its back,
 * `across` the share of its width at that station from its −y side.
 *
 * @throws CastError `thimble-breaks-through`, `pin-breaks-through` where a wall would be thinner than 2 mm, `holes-too-close`
 * where two holes would leave less than 2 mm between them
 */
export function topHoles(mesh: Mesh, top: FlatTop, { thimble, pins }: Pick<TopRules, 'thimble' | 'pins'>): TopHole[] {
  const holes: NamedHole[] = [];
  if (thimble !== null) {
    const [u, v] = middleOfTop(top);
    holes.push({ u, v, radius: thimble.diameterMm / 2, depth: thimble.depthMm, kind: 'thimble', name: 'The thimble hole', rule: 'last.top.thimble', instead: 'Give a smaller diameterMm' });
  }
  const [back, front] = extentOfTop(top);
  pins.forEach(({ diameterMm, depthMm, along, across }, i) => {
    const u = back + along * (front - back);
    const [low, high] = spanAt(top, 0, u) ?? [0, 0];
    holes.push({
      u, v: low + across * (high - low), radius: diameterMm / 2, depth: depthMm,
      kind: 'pin', name: `Pin hole ${i + 1}`, rule: `last.top.pins[${i}]`, instead: 'Move it inward by its along and across, or give a smaller diameterMm',
    });
  });
  for (const hole of holes) {
    const wall = wallAround(mesh, top, hole, THINNEST_WALL);
    if (wall < THINNEST_WALL) throw breaksThrough(mesh, top, hole, wall);
  }
  holes.forEach((a, i) => holes.slice(i + 1).forEach((b) => {
    const between = Math.hypot(a.u - b.u, a.v - b.v) - a.radius - b.radius;
    if (between < THINNEST_WALL) throw tooClose(a, b, between);
  }));
  return holes;
}

function breaksThrough(mesh: Mesh, top: FlatTop, hole: NamedHole, wall: number): CastError {
  const problem = wall < 0.05 ? `${hole.name} would break through the surface.` : `${hole.name} would leave a wall of ${wall.toFixed(1)} mm; it takes ${THINNEST_WALL} mm.`;
  const deepest = deepestHole(mesh, top, hole);
  const depth = deepest >= 1 ? `Set ${hole.rule}.depthMm in the rules to ${deepest} or less. Or: ` : '';
  const remedy = `${depth}${hole.instead} in ${hole.rule}, or cut the last where it is wider.`;
  return hole.kind === 'thimble' ? new CastError('thimble-breaks-through', problem, remedy) : new CastError('pin-breaks-through', problem, remedy);
}

/** The greatest whole depth that leaves the wall, mm; 0 where none does. */
function deepestHole(mesh: Mesh, top: FlatTop, hole: TopHole): number {
  let low = 0;
  let high = Math.ceil(hole.depth);
  while (high - low > 1) {
    const depth = (low + high) >> 1;
    if (wallAround(mesh, top, { ...hole, depth }, THINNEST_WALL) < THINNEST_WALL) high = depth;
    else low = depth;
  }
  return low;
}

const tooClose = (a: NamedHole, b: NamedHole, between: number): CastError =>
  new CastError(
    'holes-too-close',
    `${a.name} and ${b.name.toLowerCase()} of the flat top ${between <= 0 ? 'would run into each other' : `would leave ${between.toFixed(1)} mm between them; it takes ${THINNEST_WALL} mm`}.`,
    `Move ${b.rule} by its along and across, or give one of them a smaller diameterMm.`,
  );

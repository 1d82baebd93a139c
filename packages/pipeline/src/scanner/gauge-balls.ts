import { findSpheres } from '@cast-to-last/geometry/spheres/find-spheres';
import type { FoundSphere } from '@cast-to-last/geometry/spheres/find-spheres';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bulk } from '@cast-to-last/geometry/repair/weld';
import { CastError } from '../errors.js';
import type { LengthUnit } from '../records.js';
import type { Gauge, GaugeScan } from './scanner-check.js';
import { MILLIMETRES } from '../scan/infer-unit.js';
import { distance } from '@cast-to-last/geometry/numerics/vectors';

export const GAUGE_BALLS = {
  /** Share by which a ball's diameter may be off and still be that ball. */
  size: 0.1,
  /** Extent of a scene over the ball's diameter, least and most, for which a unit is tried. */
  scene: [0.3, 100],
  /** Facing inwards, more of a ball must be there than a bowl can hold of it. */
  leastInward: 0.55,
  /** Part of a ball that is enough to name another diameter. */
  plainlySeen: 0.15,
  /** Diameters tried for such a hint: from, to (mm) and their ratio. */
  hints: { from: 6, to: 120, ratio: 1.18 },
} as const;

/** A scan in millimetres by one unit, and the balls of the gauge's diameter that it then holds, the best seen first. */
export interface GaugeScene {
  readonly unit: LengthUnit;
  readonly mesh: Mesh;
  readonly found: readonly FoundSphere[];
}

/**
 * The scan in the unit in which it holds the gauge's balls, and the balls, at least one.
 *
 * @throws CastError `no-ball-found`, `unit-ambiguous`
 */
export function ballsIn({ mesh, unit }: GaugeScan, gauge: Gauge, { leastSeen, spacing }: { readonly leastSeen: number; readonly spacing: number }): GaugeScene {
  const box = bulk(mesh.positions);
  const extent = Math.max(box[3] - box[0], box[4] - box[1], box[5] - box[2]) / gauge.diameterMm;
  const [least, most] = GAUGE_BALLS.scene;
  const units = (Object.keys(MILLIMETRES) as LengthUnit[]).filter((u) => (unit === 'auto' ? extent * MILLIMETRES[u] > least && extent * MILLIMETRES[u] < most : u === unit));
  const search = { radius: gauge.diameterMm / 2, tolerance: GAUGE_BALLS.size };
  const tried = units.map((u): GaugeScene => {
    const scene = { positions: MILLIMETRES[u] === 1 ? mesh.positions : mesh.positions.map((c) => c * MILLIMETRES[u]), triangles: mesh.triangles };
    const outward = findSpheres(scene, search);
    return { unit: u, mesh: scene, found: outward.length > 0 ? outward : findSpheres(scene, { ...search, inward: true }).filter((f) => f.seen > GAUGE_BALLS.leastInward) };
  });
  const holding = tried.filter((t) => t.found.length > 0).sort((a, b) => b.found[0].seen - a.found[0].seen);
  if (holding.length === 0) {
    throw new CastError(
      'no-ball-found',
      `No ball of about ${gauge.diameterMm} mm diameter was found in the scan.${hint(tried)}`,
      'Check --diameter and --unit; scan the ball matt, from several sides, free of clutter.',
    );
  }
  const { distanceMm } = gauge;
  const paired = holding.filter(({ found }) => distanceMm !== null && found.length > 1 && nearestPair(found, distanceMm).off < spacing * distanceMm);
  const likely = paired.length > 0 ? paired : holding.filter(({ found }) => found[0].seen >= leastSeen);
  if (likely.length > 1) {
    const names = likely.map((t) => t.unit);
    throw new CastError('unit-ambiguous', `There is a ball of about ${gauge.diameterMm} mm in the scan if its unit is ${names.join(', and if it is ')}.`, `Say which with --unit ${names.join(' or --unit ')}.`);
  }
  return likely[0] ?? holding[0];
}

/** Names another ball that is plainly there. */
function hint([scene]: readonly GaugeScene[]): string {
  const { from, to, ratio } = GAUGE_BALLS.hints;
  let best: FoundSphere | null = null;
  for (let diameter = from; scene !== undefined && diameter <= to; diameter *= ratio) {
    const [found] = findSpheres(scene.mesh, { radius: diameter / 2, tolerance: GAUGE_BALLS.size });
    if (found !== undefined && found.seen > Math.max(GAUGE_BALLS.plainlySeen, best?.seen ?? 0)) best = found;
  }
  return best === null ? '' : ` One of about ${(2 * best.radius).toFixed(1)} mm is there.`;
}

/** Of two balls or more, the two whose distance is nearest to the calibrated one, and how far it is off. */
export function nearestPair(balls: readonly FoundSphere[], distanceMm: number): { pair: readonly [FoundSphere, FoundSphere]; off: number } {
  let pair: readonly [FoundSphere, FoundSphere] = [balls[0], balls[1]];
  let off = Infinity;
  for (let i = 0; i < balls.length; i++) {
    for (let j = i + 1; j < balls.length; j++) {
      const here = Math.abs(distance(balls[i].centre, balls[j].centre) - distanceMm);
      if (here >= off) continue;
      pair = [balls[i], balls[j]];
      off = here;
    }
  }
  return { pair, off };
}

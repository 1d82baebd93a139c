import type { Decisions } from '../decisions.js';
import { filledHoles } from '../marks/filled-holes.js';
import { isDot } from '../marks/found-mark.js';
import type { InspectionSurface } from '../marks/inspection-surface.js';
import type { Patch } from '../marks/mend.js';
import { mend } from '../marks/mend.js';
import { nearestVertex } from '../marks/nearest-vertex.js';
import type { AlignedCast, InspectedCast, SmoothedCast } from '../records.js';
import type { SmoothingRules } from '../rules/rules.js';

/**
 * Replaces every mark whose decision is `smooth`, and every patch that the maker asked for, by a fair surface. Ground that
 * the maker protects is not touched. What repair put over holes is laid anew likewise, now that the marks round them are known.
 */
export function smoothMarks(cast: AlignedCast, inspected: InspectedCast, rules: SmoothingRules, decisions: Decisions): SmoothedCast {
  const { surface, marks } = inspected;
  const masked = new Uint8Array(surface.areas.length);
  for (const mark of marks) for (const v of mark.vertices) masked[v] = 1;
  const patches = new Map<Patch, string>();
  const warnings: string[] = [];
  for (const mark of marks) {
    if (mark.decision === 'smooth') patches.set({ vertices: mark.vertices, centre: mark.centreVertex, margin: rules.marginMm ?? mark.margin, isLearned: isDot(mark) }, mark.id);
  }
  const locked = new Uint8Array(surface.areas.length);
  for (const wish of decisions.patches) {
    const place = wish.centre.map((c) => c.toFixed(1)).join(', ');
    const { vertices, centre } = disc(surface, wish.centre, wish.radiusMm);
    if (vertices.length === 0) warnings.push(`Nothing of the cast lies under the patch of ${wish.radiusMm} mm at ${place}: it did nothing.`);
    else if (wish.decision === 'protect') for (const v of vertices) locked[v] = 1;
    else patches.set({ vertices, centre, margin: 0 }, `the patch of ${wish.radiusMm} mm at ${place}`);
  }
  const holes = filledHoles(cast, surface);
  for (const hole of holes) for (const v of hole.vertices) masked[v] = 1;
  const { mesh, moved, groundless } = mend(cast.mesh, surface, [...patches.keys(), ...holes], masked, locked);
  for (const patch of groundless) if (patches.has(patch)) warnings.push(`No sound surface near enough says what should be at ${patches.get(patch)}: it was left as it is.`);
  return { mesh, moved, warnings };
}

/** The vertices of the inspection surface within a radius of a point that are joined to the one nearest to it. */
function disc(surface: InspectionSurface, centre: readonly number[], radius: number): { vertices: Uint32Array; centre: number } {
  const p = surface.mesh.positions;
  const away = (v: number): number => Math.hypot(p[3 * v] - centre[0], p[3 * v + 1] - centre[1], p[3 * v + 2] - centre[2]);
  const { vertex: nearest, away: least } = nearestVertex(surface.mesh, surface.areas.keys(), centre);
  if (nearest < 0 || least > Math.max(radius, 5)) return { vertices: new Uint32Array(0), centre: -1 };
  const reached = [nearest];
  const seen = new Set(reached);
  const { offsets, items } = surface.neighbours;
  for (let head = 0; head < reached.length; head++) {
    for (let i = offsets[reached[head]]; i < offsets[reached[head] + 1]; i++) {
      const w = items[i];
      if (seen.has(w) || away(w) > radius) continue;
      seen.add(w);
      reached.push(w);
    }
  }
  return { vertices: Uint32Array.from(reached), centre: nearest };
}

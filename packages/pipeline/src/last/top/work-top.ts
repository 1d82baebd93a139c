import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { Solid, SolidScope } from '@cast-to-last/geometry/solids/solid';
import { SolidError } from '@cast-to-last/geometry/solids/solid';
import { workPatch } from '@cast-to-last/geometry/solids/work-patch';
import type { TopRules } from '../../rules/last-rules.js';
import type { LastBody } from '../last-body.js';
import type { FlatTop } from './flat-top.js';
import { freeSpace } from './free-space.js';
import type { Disc } from './free-space.js';
import type { TopHole } from './hole-walls.js';
import { placeLabel, unknownCharacters } from './place-label.js';
import type { PlacedLabel } from './place-label.js';
import { MARK_DEFAULTS, midlineMarks, soleMarks, soleRound } from './station-marks.js';
import type { TopLine } from './station-marks.js';
import { strokeOutlines } from './stroke-outlines.js';
import { topHoles } from './top-holes.js';
import { fromPlane } from './top-plane.js';
import type { TopPlane } from './top-plane.js';

/** How far cutters stand out over the flat top, and raised strokes reach into it, mm. */
const PROUD = 1;
const ROOT = 0.3;

/** Sides of a hole: its walls deviate from a circle by less than 0.03 mm up to 30 mm across. */
const HOLE_SIDES = 64;

/** What is cut into the flat top, and what stands on it. */
export interface TopWork {
  readonly holes: readonly TopHole[];
  readonly midline: readonly TopLine[];
  readonly label: PlacedLabel | null;
  readonly warnings: readonly string[];
}

/**
 * Where everything of the flat top finds its place: holes first, then the midline, then the label in the room that is left.
 *
 * @param mesh the closed surface
 * @throws CastError `thimble-breaks-through`, `pin-breaks-through`, `holes-too-close`
 */
export function planTop(mesh: Mesh, top: FlatTop, rules: TopRules, { side }: Pick<LastBody, 'side'>, orderNumber: string | null): TopWork {
  const warnings: string[] = [];
  const holes = topHoles(mesh, top, rules);
  const midline = rules.stationMarks ? midlineMarks(top, holes) : [];
  if (rules.stationMarks && midline.length < 2) {
    warnings.push(`The flat top has room for ${midline.length === 0 ? 'no mark' : 'one mark'} of the midline.`);
  }
  if (rules.label === 'none') return { holes, midline, label: null, warnings };
  const unknown = unknownCharacters(orderNumber ?? '');
  const space = freeSpace(top, edgeMargin(rules.labelDepthMm), [...holes.map(({ u, v, radius }) => ({ u, v, radius: radius + 1.5 })), ...midline.flatMap(discsAlong)]);
  const label = placeLabel(top, space, side, orderNumber);
  if (label === null) warnings.push('The flat top has no room for order number and side in letters of 4 mm: they are left out. A higher cut, a longer cone or fewer holes would make room.');
  else if (unknown.length > 0) warnings.push(`There are no strokes for ${unknown.map((c) => `"${c}"`).join(', ')} of the order number: a crossed box stands in place of each.`);
  return { holes, midline, label, warnings };
}

/** Free edge around the label, mm: deeper strokes need more, for the wall below may draw in. */
const edgeMargin = (depth: number): number => 1.5 + 0.5 * depth;

/** Discs that cover a mark and the room around it. */
function discsAlong([u0, v0, u1, v1]: TopLine): Disc[] {
  const count = Math.max(2, Math.ceil(Math.hypot(u1 - u0, v1 - v0)) + 1);
  const radius = MARK_DEFAULTS.width / 2 + MARK_DEFAULTS.clear;
  return Array.from({ length: count }, (_, i) => ({ u: u0 + ((u1 - u0) * i) / (count - 1), v: v0 + ((v1 - v0) * i) / (count - 1), radius }));
}

/**
 * The surface with everything cut into it, and raised strokes joined to it: at the flat top, and at the stations of the sole.
 * The mesh itself where nothing is asked.
 */
export function workTop(scope: SolidScope, mesh: Mesh, top: FlatTop, work: TopWork, rules: TopRules, { landmarks }: Pick<LastBody, 'landmarks'>): Mesh {
  const { plane } = top;
  const deepest = Math.max(rules.labelDepthMm, MARK_DEFAULTS.depth, ...work.holes.map(({ depth }) => depth));
  const cutters = work.holes.map(({ u, v, radius, depth }) => {
    const at = new Float64Array([1, 0, 0, u, 0, 1, 0, v, 0, 0, 1, 0, 0, 0, 0, 1]);
    return scope.cylinder(radius, depth + PROUD, HOLE_SIDES).transform(at).transform(fromPlane(plane, -depth));
  });
  const cut = (outlines: readonly Float64Array[], depth: number): void => {
    if (outlines.length > 0) cutters.push(scope.prism(outlines, depth + PROUD).transform(fromPlane(plane, -depth)));
  };
  cut(work.midline.flatMap((line) => strokeOutlines(Float64Array.from(line), MARK_DEFAULTS.width)), MARK_DEFAULTS.depth);
  if (work.label !== null && rules.label === 'engraved') cut(work.label.outlines, rules.labelDepthMm);
  const raised = work.label !== null && rules.label === 'raised' ? [scope.prism(work.label.outlines, rules.labelDepthMm + ROOT).transform(fromPlane(plane, -ROOT))] : [];
  const down = plane.normal.map((c) => -(deepest + BEYOND) * c) as [number, number, number];
  const topped = worked(scope, mesh, () => onPlane(mesh, plane), down, cutters, raised);
  const grooves = rules.stationMarks ? soleMarks(scope, topped, landmarks) : [];
  return worked(scope, topped, () => soleRound(topped, grooves), [0, 0, BEYOND], grooves, []);
}

/** How much deeper the small solids are that are worked on than what is cut into them, mm. */
const BEYOND = 3;

/** The surface worked on at a patch, or, where its edge does not stay or the patch makes no solid, as a whole. */
function worked(scope: SolidScope, mesh: Mesh, patch: () => Uint32Array, inward: readonly [number, number, number], cutters: readonly Solid[], raised: readonly Solid[]): Mesh {
  if (cutters.length + raised.length === 0) return mesh;
  const work = (solid: Solid): Solid => {
    const joined = raised.reduce((body, stroke) => body.union(stroke), solid);
    return cutters.length === 0 ? joined : joined.subtract(scope.union(cutters));
  };
  try {
    const found = workPatch(scope, mesh, patch(), inward, work);
    if (found !== null) return found;
  } catch (error) {
    if (!(error instanceof SolidError)) throw error;
  }
  return work(scope.ofMesh(mesh)).toMesh();
}

/** The triangles of the flat top. */
function onPlane({ positions: p, triangles: t }: Mesh, { normal: n, offset }: TopPlane): Uint32Array {
  const flat = (v: number): boolean => Math.abs(n[0] * p[3 * v] + n[2] * p[3 * v + 2] - offset) < 1e-3;
  const found: number[] = [];
  for (let f = 0; f < t.length; f += 3) if (flat(t[f]) && flat(t[f + 1]) && flat(t[f + 2])) found.push(f / 3);
  return Uint32Array.from(found);
}

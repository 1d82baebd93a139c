import type { Point } from '@cast-to-last/foot/landmarks';
import { firstAlong, newNearestPoint, surfaceTree } from '@cast-to-last/geometry/distance/bvh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';

export const THIN = {
  /** Triangles at which the thickness is taken. */
  rays: 12_000,
  /** The other side counts where it looks the other way (cosine of the normals at most): an edge that runs out is no wall. */
  facing: -0.7,
  /** Thin triangles this near to each other are one place, mm. */
  place: 6,
  /** Triangles smaller than this are left out, mm²: slivers of cuts. */
  sliver: 1e-4,
  /** Most places that are listed, largest first. */
  listed: 20,
} as const;

export interface ThinPlace {
  /** In the coordinates of the mesh, where it is thinnest, mm. */
  readonly at: Point;
  /** mm */
  readonly least: number;
  /** mm² of outer and inner side together, thinner than the limit */
  readonly area: number;
}

export interface Thinness {
  /** mm; Infinity where no side faces another. */
  readonly least: number;
  /** mm² */
  readonly area: number;
  readonly places: readonly ThinPlace[];
}

/** Where a closed body is thinner than `limit` mm, from side to side along the normal. */
export function thinPlaces(mesh: Mesh, limit: number): Thinness {
  const { positions: p, triangles: t } = mesh;
  const tree = surfaceTree(mesh);
  const normals = triangleNormals(mesh);
  const found = newNearestPoint();
  const step = Math.max(1, Math.floor(triangleCount(mesh) / THIN.rays));
  const thin: ThinPlace[] = [];
  let least = Infinity;
  for (let f = 0; f < triangleCount(mesh); f += step) {
    const size = Math.hypot(normals[3 * f], normals[3 * f + 1], normals[3 * f + 2]);
    if (size < 2 * THIN.sliver) continue;
    const at = [0, 1, 2].map((k) => (p[3 * t[3 * f] + k] + p[3 * t[3 * f + 1] + k] + p[3 * t[3 * f + 2] + k]) / 3);
    const inward = [0, 1, 2].map((k) => -normals[3 * f + k] / size);
    if (!firstAlong(tree, at[0], at[1], at[2], inward, 1e-3, found)) continue;
    const g = 3 * found.triangle;
    const other = Math.hypot(normals[g], normals[g + 1], normals[g + 2]);
    const facing = -(inward[0] * normals[g] + inward[1] * normals[g + 1] + inward[2] * normals[g + 2]) / other;
    if (!(facing < THIN.facing)) continue;
    least = Math.min(least, found.distance);
    if (found.distance < limit) thin.push({ at: [at[0], at[1], at[2]], least: found.distance, area: (step * size) / 2 });
  }
  return { least, area: thin.reduce((sum, place) => sum + place.area, 0), places: gathered(thin) };
}

/** Thin triangles near the thinnest of them are one place with it; cells of the places' size hold those to look at. */
function gathered(thin: readonly ThinPlace[]): ThinPlace[] {
  const cell = (c: number): number => Math.floor(c / THIN.place);
  const places = new Map<string, { at: Point; least: number; area: number }>();
  for (const one of [...thin].sort((a, b) => a.least - b.least)) {
    let home: { at: Point; least: number; area: number } | undefined;
    for (let n = 0; n < 27 && home === undefined; n++) {
      const near = places.get(`${cell(one.at[0]) + (n % 3) - 1},${cell(one.at[1]) + (Math.floor(n / 3) % 3) - 1},${cell(one.at[2]) + Math.floor(n / 9) - 1}`);
      if (near !== undefined && Math.hypot(near.at[0] - one.at[0], near.at[1] - one.at[1], near.at[2] - one.at[2]) <= THIN.place) home = near;
    }
    if (home === undefined) places.set(one.at.map(cell).join(','), { ...one });
    else home.area += one.area;
  }
  return [...places.values()].sort((a, b) => b.area - a.area).slice(0, THIN.listed);
}

import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { TopMap } from '@cast-to-last/pipeline/cut/top-map';
import { ACROSS, TOP_MAP } from '@cast-to-last/pipeline/cut/top-map';
import { openCylinder } from './meshes.ts';

export interface CutMapOptions {
  /** Distance of the stations is that of the map, mm. */
  readonly stations?: number;
  /** Radius of the top's cross section, mm. */
  readonly radius?: number;
  /** What stands on the round top at a station, mm, u mm from the middle along the surface, positive towards +y. */
  readonly add?: (station: number, u: number) => number;
}

/** Arc length of sample j from the middle, mm. */
export const placeOf = (j: number): number => (j - (ACROSS - 1) / 2) * TOP_MAP.step;

/** The map of a round, level top that runs along −X with whatever stands on it. */
export function cutMap({ stations = 60, radius = 36, add = () => 0 }: CutMapOptions = {}): TopMap {
  const points = new Float64Array(3 * stations * ACROSS);
  const along = new Float64Array(3 * stations);
  for (let s = 0; s < stations; s++) {
    along[3 * s] = -1;
    for (let j = 0; j < ACROSS; j++) {
      const u = placeOf(j);
      const r = radius + add(s, u);
      points.set([-TOP_MAP.station * s, r * Math.sin(u / radius), r * Math.cos(u / radius)], 3 * (s * ACROSS + j));
    }
  }
  return { stations, points, along };
}

/** A lip of some height at a place that fades away to both sides within some mm. */
export const lip = (height: number, at: number, fades = 1) => (u: number): number => height * Math.exp(-(((u - at) / fades) ** 2));

/** A ridge with the round profile of a seam. */
export const seam = (height: number, half = 3) => (u: number): number => (Math.abs(u) < half ? 0.5 * height * (1 + Math.cos((Math.PI * u) / half)) : 0);

/** The +y flap stands this much higher at the edge and comes back to its place within about 12 mm. */
export const flap = (height: number) => (u: number): number => height * 0.5 * (1 + Math.tanh(u / 0.8)) * (u > 0 ? Math.exp(-u / 25) : 1);

/** A gap of a width round the middle: lips of these heights at the −y and the +y edge, plaster straight from lip to lip. */
export const gap = (width: number, low: number, high: number, fades = 2) => (u: number): number => {
  const [a, b] = [-width / 2, width / 2];
  if (u <= a) return low * Math.exp((u - a) / fades);
  if (u >= b) return high * Math.exp((b - u) / fades);
  return low + ((high - low) * (u - a)) / width;
};

/** The radius of `cutTube`, mm. */
export const TUBE = 36;

/** A tube from x = 0 to 170 that lies on z = 0, with whatever stands on its top: mm, u mm from the middle along the surface, positive towards +y. */
export function cutTube(add: (x: number, u: number) => number): Mesh {
  const { positions, triangles } = openCylinder(TUBE, 170, 440, 85);
  const placed = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const angle = Math.atan2(-positions[i + 1], positions[i]);
    const r = TUBE + add(positions[i + 2], angle * TUBE);
    placed.set([positions[i + 2], r * Math.sin(angle), TUBE + r * Math.cos(angle)], i);
  }
  return { positions: placed, triangles };
}

import { length3 } from '@cast-to-last/geometry/numerics/lengths';
import { surfaceLine } from '@cast-to-last/geometry/sections/surface-line';
import type { InspectionSurface } from './inspection-surface.js';

/** Directions in which profiles are taken at each place, evenly over half a turn. */
export const LINES = 6;

/** Distance of a profile's samples, mm. */
export const STEP = 1;

/** The order in which directions are asked: neighbours last, so that a hopeless place is left early. */
export const ASKING_ORDER = [0, 3, 1, 4, 2, 5] as const;

/** Takes profiles of the surface through one vertex after the other. */
export class LineProfiles {
  private readonly surface: InspectionSurface;
  private readonly ahead: Float64Array;
  private readonly behind: Float64Array;
  private readonly e = new Float64Array(3);
  private readonly f = new Float64Array(3);
  private readonly direction = new Float64Array(3);
  private readonly normal = new Float64Array(3);
  private vertex = -1;
  /** mean[k − 1]: mean of the heights at +k and −k steps. */
  readonly mean: Float64Array;

  /** @param reach how far each way, mm */
  constructor(surface: InspectionSurface, reach: number) {
    const steps = Math.ceil(reach / STEP);
    this.surface = surface;
    this.ahead = new Float64Array(steps);
    this.behind = new Float64Array(steps);
    this.mean = new Float64Array(steps);
  }

  /** Turns to a vertex. */
  at(vertex: number): void {
    this.vertex = vertex;
    const n = this.normal;
    for (let k = 0; k < 3; k++) n[k] = this.surface.normals[3 * vertex + k];
    const k = Math.abs(n[0]) < 0.8 ? 0 : 1;
    const { e, f } = this;
    for (let j = 0; j < 3; j++) e[j] = -n[k] * n[j];
    e[k] += 1;
    const length = length3(e[0], e[1], e[2]);
    for (let j = 0; j < 3; j++) e[j] /= length;
    f[0] = n[1] * e[2] - n[2] * e[1];
    f[1] = n[2] * e[0] - n[0] * e[2];
    f[2] = n[0] * e[1] - n[1] * e[0];
  }

  /** The unit direction of a line at the present vertex, written to `out`. */
  directionOf(line: number, out: Float64Array): void {
    const angle = (Math.PI * line) / LINES;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    for (let j = 0; j < 3; j++) out[j] = c * this.e[j] + s * this.f[j];
  }

  /** Takes the profile along a line, `most` steps of it; returns how many it has on both sides. */
  take(line: number, most = this.mean.length): number {
    const { direction, ahead, behind, mean } = this;
    this.directionOf(line, direction);
    const forward = this.oneWay(ahead, most);
    for (let j = 0; j < 3; j++) direction[j] = -direction[j];
    const steps = Math.min(forward, this.oneWay(behind, most));
    for (let k = 0; k < steps; k++) mean[k] = (ahead[k] + behind[k]) / 2;
    return steps;
  }

  private oneWay(height: Float64Array, most: number): number {
    const entry = this.entryTriangle();
    if (entry < 0) return 0;
    const { mesh, twin } = this.surface;
    return surfaceLine(mesh, twin, this.vertex, entry, this.direction, this.normal, STEP, height, most);
  }

  /** The triangle at the vertex whose far edge the half-plane along the direction crosses; −1 at a boundary. */
  private entryTriangle(): number {
    const { mesh, around } = this.surface;
    const p = mesh.positions;
    const t = mesh.triangles;
    const { direction: d, normal: n, vertex } = this;
    const mx = d[1] * n[2] - d[2] * n[1];
    const my = d[2] * n[0] - d[0] * n[2];
    const mz = d[0] * n[1] - d[1] * n[0];
    const o = 3 * vertex;
    for (let i = around.offsets[vertex]; i < around.offsets[vertex + 1]; i++) {
      const c = 3 * around.items[i];
      const k = t[c] === vertex ? 0 : t[c + 1] === vertex ? 1 : 2;
      const a = 3 * t[c + ((k + 1) % 3)];
      const b = 3 * t[c + ((k + 2) % 3)];
      const ax = p[a] - p[o];
      const ay = p[a + 1] - p[o + 1];
      const az = p[a + 2] - p[o + 2];
      const bx = p[b] - p[o];
      const by = p[b + 1] - p[o + 1];
      const bz = p[b + 2] - p[o + 2];
      const sa = mx * ax + my * ay + mz * az;
      const sb = mx * bx + my * by + mz * bz;
      if (sa >= 0 === sb >= 0) continue;
      const s = sa / (sa - sb);
      const along = d[0] * (ax + s * (bx - ax)) + d[1] * (ay + s * (by - ay)) + d[2] * (az + s * (bz - az));
      if (along > 0) return around.items[i];
    }
    return -1;
  }
}

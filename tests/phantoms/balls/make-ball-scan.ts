import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { identity, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { anyPose } from '../scan/pose.js';
import { randomFrom, type Random } from '../random.js';
import type { BallScanOptions, Scene } from './draw-scene.js';
import { drawScene } from './draw-scene.js';
import { seenSurface } from './seen-surface.js';

/** The scan of a gauge that never was, and the truth about it. */
export interface BallScan {
  readonly seed: number;
  /** In `unit`, in the scan's own coordinates. */
  readonly mesh: Mesh;
  readonly unit: 'mm' | 'm' | 'cm' | 'in';
  /** Calibrated. */
  readonly diameter: number;
  readonly distance: number | null;
  /** Where a scanner with these errors sees the balls, mm, in the scan's coordinates. */
  readonly centres: readonly (readonly number[])[];
  /** Diameter that it sees. */
  readonly seenDiameter: number;
  /** Share of each ball's surface that is in the scan. */
  readonly seen: readonly number[];
  /** Points on each ball. */
  readonly points: readonly number[];
  readonly made: {
    readonly noise: number; readonly edge: number; readonly scaleError: number; readonly offset: number; readonly misfit: number;
    readonly stand: string; readonly clutter: readonly string[]; readonly views: number; readonly table: boolean;
  };
}

const PER_MM = { mm: 1, m: 0.001, cm: 0.1, in: 1 / 25.4 } as const;

/** A scanned gauge; the same seed and options give the same scan bit for bit. */
export function makeBallScan(seed: number, options: BallScanOptions = {}): BallScan {
  const random = randomFrom(seed, 'balls');
  const scene = drawScene(random.fork('scene'), options);
  const faults = drawFaults(random.fork('faults'), options);
  const noise = options.noise ?? random.fork('noise').pick([0.01, 0.03, 0.03, 0.05, 0.08]);
  const r = scene.diameter / 2;
  const finest = Math.sqrt((4.6 * Math.PI * r * r) / 25_000);
  const edge = options.edge ?? Math.max(finest, Math.min(r / 5, 0.22 * 6 ** random.fork('edge').next()));
  const views = options.views ?? random.fork('views').whole(1, 9);
  const surface = seenSurface(scene, { edge, views, round: options.round ?? random.fork('views').between(0.35, 1), noise, offset: faults.offset, misfit: faults.misfit, damage: options.damage ?? true }, random.fork('scanner'));
  const pose = options.posed === false ? identity() : anyPose(random.fork('pose'));
  const unit = options.unit ?? random.fork('unit').pick(['mm', 'mm', 'mm', 'm', 'm', 'cm', 'in'] as const);
  const k = 1 + faults.scaleError;
  const placed = transformPositions(pose, surface.mesh.positions);
  return {
    seed,
    mesh: { positions: placed.map((c) => c * k * PER_MM[unit]), triangles: surface.mesh.triangles },
    unit,
    diameter: scene.diameter,
    distance: scene.centres.length < 2 ? null : Math.hypot(...[0, 1, 2].map((i) => scene.centres[0][i] - scene.centres[1][i])),
    centres: scene.centres.map((c) => Array.from(transformPositions(pose, Float64Array.from(c)), (x) => x * k)),
    seenDiameter: (scene.diameter + 2 * faults.offset) * k,
    seen: surface.seen,
    points: surface.points,
    made: { noise, edge, ...faults, stand: scene.stand, clutter: scene.clutter, views, table: hasTable(scene) },
  };
}

const hasTable = (scene: Scene): boolean => scene.solids.some((s) => s.name === 'table');

function drawFaults(random: Random, options: BallScanOptions): { scaleError: number; offset: number; misfit: number } {
  const wrong = options.wrong ?? true;
  const scaleError = random.normal(0, 0.0015);
  const offset = random.normal(0, 0.05);
  const misfit = random.chance(0.2) ? random.between(0.05, 0.4) : 0;
  return {
    scaleError: options.scaleError ?? (wrong ? scaleError : 0),
    offset: options.offset ?? (wrong ? offset : 0),
    misfit: options.misfit ?? (wrong ? misfit : 0),
  };
}

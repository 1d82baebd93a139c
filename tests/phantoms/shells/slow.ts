import type { Random } from '../random.js';

/** A number that wanders slowly along a length: three waves with about `wavelength` mm from crest to crest, within ±1. */
export function slowAlong(random: Random, wavelength: number): (s: number) => number {
  const waves = [1, 0.62, 0.4].map((share) => ({ k: (2 * Math.PI) / (wavelength * share * random.between(0.85, 1.2)), phase: random.between(0, 2 * Math.PI), a: share * random.between(0.6, 1) }));
  const most = waves.reduce((sum, w) => sum + w.a, 0);
  return (s) => waves.reduce((sum, w) => sum + w.a * Math.sin(w.k * s + w.phase), 0) / most;
}

/** The same in space. */
export function slowInSpace(random: Random, wavelength: number): (x: number, y: number, z: number) => number {
  const waves = [1, 0.8, 0.6].map((share) => {
    const d = [random.normal(0, 1), random.normal(0, 1), random.normal(0, 1)];
    const k = (2 * Math.PI) / (wavelength * random.between(0.8, 1.3)) / Math.hypot(d[0], d[1], d[2]);
    return { d: d.map((c) => c * k), phase: random.between(0, 2 * Math.PI), a: share };
  });
  const most = waves.reduce((sum, w) => sum + w.a, 0);
  return (x, y, z) => waves.reduce((sum, { d, phase, a }) => sum + a * Math.sin(d[0] * x + d[1] * y + d[2] * z + phase), 0) / most;
}

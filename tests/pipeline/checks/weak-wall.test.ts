import { describe, expect, it } from 'vitest';
import type { CheckContext } from '@cast-to-last/pipeline/checks/check-context';
import { checkWeakWall } from '@cast-to-last/pipeline/checks/weak-wall';
import type { ScanKind } from '@cast-to-last/pipeline/records';
import { onPlates } from '../../support/booted.ts';
import { icosphere } from '../../support/meshes.ts';

const RADIUS = 40;
const ball = icosphere(RADIUS, 5);
const POLES: readonly (readonly [number, number, number])[] = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]];

/** Index of the cap of half-width 0.3 + 0.02·n rad round pole n that each vertex lies in, −1 in none. */
const caps = Int32Array.from({ length: ball.positions.length / 3 }, (_, v) =>
  POLES.findIndex((pole, n) => Math.acos(Math.min(1, pole.reduce((sum, c, k) => sum + (c * ball.positions[3 * v + k]) / RADIUS, 0))) < 0.3 + 0.02 * n));

/** A shell of 5 mm with caps that are 2 mm thin, or broken through. */
function contextOf(thin: readonly number[], broken: readonly number[], kind: ScanKind = 'inside'): CheckContext {
  const context = onPlates({ bend: 12, hinge: 185 });
  const thickness = Float64Array.from(caps, (n) => (broken.includes(n) ? NaN : thin.includes(n) ? 2 : 5));
  const filled = Uint8Array.from(caps, (n) => +broken.includes(n));
  const wall = { mm: 5, how: 'measured', uncertainty: 0.1 } as const;
  return { ...context, kind, aligned: { ...context.aligned, mesh: ball, filled }, shelled: { ...context.shelled, wall, thickness } };
}

describe('weak places of the wall', () => {
  it('are told with area, thickness and place', () => {
    const { readings, findings } = checkWeakWall(contextOf([2], [5]));
    expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['wall-thin note', 'wall-broken care']);
    const [thin, broken] = findings;
    const area = (angle: number): number => 2 * Math.PI * RADIUS ** 2 * (1 - Math.cos(angle));
    expect((thin.value ?? 0) / area(0.34)).toBeCloseTo(1, 0);
    expect((broken.value ?? 0) / area(0.4)).toBeCloseTo(1, 0);
    expect(thin.text).toMatch(/2\.0 mm where 5\.0 mm are usual/);
    expect(broken.text).toContain('broken through');
    expect(thin.at?.[1]).toBeGreaterThan(35);
    expect(broken.at?.[2]).toBeLessThan(-35);
    expect(readings.map(({ id, unit }) => `${id} ${unit}`)).toEqual(['wall-thin mm²', 'wall-broken mm²']);
  });

  it('have numbers where there are several, the largest first, and no more than four of a kind', () => {
    const { readings, findings } = checkWeakWall(contextOf([0, 1, 2, 3, 4, 5], []));
    expect(findings.map(({ code }) => code)).toEqual(['wall-thin', 'wall-thin-2', 'wall-thin-3', 'wall-thin-4']);
    const areas = findings.map(({ value }) => value ?? 0);
    expect(areas).toEqual([...areas].sort((a, b) => b - a));
    expect(new Set(readings.map(({ id }) => id)).size).toBe(readings.length);
    expect(readings.find(({ id }) => id === 'wall-broken')).toMatchObject({ value: 0 });
  });

  it('are none in an even wall', () => {
    const { readings, findings } = checkWeakWall(contextOf([], []));
    expect(findings).toEqual([]);
    expect(readings.map(({ id, value }) => `${id} ${value}`)).toEqual(['wall-thin 0', 'wall-broken 0']);
  });

  it('cannot be read off one side, and are not asked of a positive', () => {
    const one = contextOf([1], []);
    const { readings, findings } = checkWeakWall({ ...one, shelled: { ...one.shelled, thickness: null } });
    expect(findings).toEqual([]);
    for (const { value, why } of readings) {
      expect(value).toBeNull();
      expect(why).toContain('One side');
    }
    expect(checkWeakWall(contextOf([1], [], 'positive'))).toEqual({ readings: [], findings: [] });
  });
});

import { describe, expect, it } from 'vitest';
import type { Measurement, MeasureId, TakenMeasurement } from '@cast-to-last/foot/measures';
import { isTaken } from '@cast-to-last/foot/measures';
import { takeMeasures } from '@cast-to-last/foot/take-measures';
import { compactVertices } from '@cast-to-last/geometry/mesh/components';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { fillHoles } from '@cast-to-last/geometry/repair/fill-holes';
import { cutTo } from '../support/disturb.ts';
import { ellipsoid } from '../support/ellipsoid.ts';
import { footBlob } from '../support/foot-blob.ts';

function measured(mesh: Mesh, filled = new Uint8Array(mesh.positions.length / 3)): Map<MeasureId, Measurement> {
  const foot = takeMeasures({ mesh, twin: twins(mesh), filled }, { side: 'right', on: 'cast', roughness: 0.05, wholeTo: Infinity });
  return new Map(foot?.measurements.map((m) => [m.id, m]));
}

const value = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): number => (found.get(id) as TakenMeasurement).value;
const reason = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): string => (found.get(id) as { readonly absent?: string }).absent ?? 'taken';

const [A, B, C] = [130, 45, 35];
const body = ellipsoid([A, B, C], [A, 0, C], 6);

describe('holes that repair filled on ground that bulges', () => {
  /** A body with what lies within `radius` of a point cut out and filled. */
  const filledRound = (centre: readonly number[], radius: number, of = body): Map<MeasureId, Measurement> =>
    filledWhere((x, y, z) => Math.hypot(x - centre[0], y - centre[1], z - centre[2]) < radius, of);
  const filledWhere = (isMissing: (x: number, y: number, z: number) => boolean, of = body): Map<MeasureId, Measurement> => {
    const mesh = compactVertices(cutTo(of, (x, y, z) => !isMissing(x, y, z)));
    const { mesh: whole, firstVertex } = fillHoles(mesh, vertexTriangles(mesh), boundaryLoops(mesh));
    return measured(whole, new Uint8Array(whole.positions.length / 3).fill(1, firstVertex));
  };
  const whole = measured(body);
  /** How far a measure lies off beyond its uncertainty; 0 where it is absent for what was missing. */
  const untold = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId, sound = whole): number => {
    const m = found.get(id) as Measurement;
    if (isTaken(m)) return Math.max(0, Math.abs(m.value - value(sound, id)) - m.uncertainty);
    return /missing in the scan/.test(m.absent) ? 0 : Infinity;
  };

  it.each([15, 30, 40, 50, 60])('on the instep, %d mm round: girths and height are as unsure as they are wrong, or absent', (radius) => {
    const found = filledRound([A, 0, 2 * C], radius);
    for (const id of ['instep-girth', 'instep-height', 'long-heel-girth', 'waist-girth', 'ball-girth'] as const) expect(untold(found, id), id).toBe(0);
    // What does not lean on it is as sure as before.
    for (const id of ['heel-width', 'foot-length'] as const) expect((found.get(id) as TakenMeasurement).uncertainty).toBeCloseTo((whole.get(id) as TakenMeasurement).uncertainty, 6);
  });

  it.each([15, 30, 40, 50, 60])('at the heel, %d mm round: the lengths from there are, too', (radius) => {
    // The ellipsoid's own end is too sharp for a heel's.
    const blob = footBlob(5);
    const found = filledRound([0, 0, 33], radius, blob);
    const sound = measured(blob);
    for (const id of ['foot-length', 'medial-ball-length', 'lateral-ball-length', 'long-heel-girth', 'instep-height', 'heel-width'] as const) expect(untold(found, id, sound), id).toBe(0);
  });

  it.each([['altogether', -Infinity, Infinity], ['under the heel', -Infinity, 80], ['under the ball', 140, 225]] as const)('where the sole was missing %s: heights are, too', (_where, from, to) => {
    const blob = footBlob(5);
    const found = filledWhere((x, _y, z) => z < 7 && x > from && x < to, blob);
    const sound = measured(blob);
    for (const id of ['instep-height', 'arch-height', 'toe-height'] as const) expect(untold(found, id, sound), id).toBe(0);
    expect((found.get('instep-height') as TakenMeasurement).uncertainty).toBeGreaterThan(1.5);
  });

  it('that are large leave a girth absent; small ones hardly make it less sure', () => {
    expect(reason(filledRound([A, 0, 2 * C], 60), 'instep-girth')).toMatch(/missing in the scan/);
    const small = filledRound([A, 0, 2 * C], 10).get('instep-girth') as TakenMeasurement;
    expect(small.uncertainty).toBeLessThan((whole.get('instep-girth') as TakenMeasurement).uncertainty + 1);
  });
});

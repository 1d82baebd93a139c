import { describe, expect, it } from 'vitest';
import { isTaken } from '@cast-to-last/foot/measures';
import type { TakeOptions } from '@cast-to-last/foot/measure-taker';
import { measureStanding } from '@cast-to-last/foot/measure-standing';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { compose, frameTransform, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { ellipsoid } from '../support/ellipsoid.ts';

const OPTIONS: TakeOptions = { side: 'right', on: 'cast', roughness: 0.05, wholeTo: Infinity };

const wrapped = (mesh: ReturnType<typeof ellipsoid>) => ({ mesh, twin: twins(mesh), filled: new Uint8Array(mesh.positions.length / 3) });

describe('a surface that is measured after it was stood in its frame', () => {
  it('has the same measures from wherever near that it lay, and says how it was stood', () => {
    const { truth } = makePhantom(92, { family: 'bones', side: 'right', triangles: 12_000, denseTriangles: 12_000, posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, top: 'capped' });
    const [c, s] = [Math.cos(0.02), Math.sin(0.02)];
    const tipped = frameTransform([c, 0, s], [0, 1, 0], [-s, 0, c], [1, -2, 3]);
    const straight = measureStanding(wrapped(truth.clean), OPTIONS);
    const turned = measureStanding(wrapped(transformMesh(tipped, truth.clean)), OPTIONS);
    if (straight === null || turned === null) throw new Error('there is a foot');
    for (const m of straight.measurements) {
      const again = turned.measurements.find(({ id }) => id === m.id);
      if (again === undefined || !isTaken(m) || !isTaken(again)) continue;
      expect(Math.abs(again.value - m.value), m.id).toBeLessThan(0.02);
    }
    expect(straight.measurements.filter(isTaken).length).toBeGreaterThan(10);
    const p = truth.clean.positions.subarray(0, 3000);
    const [one, other] = [transformPositions(straight.settle, p), transformPositions(compose(turned.settle, tipped), p)];
    for (let i = 0; i < one.length; i++) expect(Math.abs(one[i] - other[i])).toBeLessThan(0.02);
  });

  it('is none where there is no heel or ball', () => {
    const [back, front] = [6, 254].map((x) => ellipsoid([6, 6, 6], [x, 0, 6], 3));
    const positions = Float64Array.from([...back.positions, ...front.positions]);
    const triangles = Uint32Array.from([...back.triangles, ...front.triangles.map((v) => v + back.positions.length / 3)]);
    expect(measureStanding(wrapped({ positions, triangles }), OPTIONS)).toBeNull();
  });
});

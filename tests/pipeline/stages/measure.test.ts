import { beforeAll, describe, expect, it } from 'vitest';
import { isTaken } from '@cast-to-last/foot/measures';
import { frameTransform, compose, transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { Transform } from '@cast-to-last/geometry/numerics/transform';
import { CastError } from '@cast-to-last/pipeline/errors';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { AlignedCast, InspectedCast, MeasuredCast } from '@cast-to-last/pipeline/records';
import { measureCast } from '@cast-to-last/pipeline/stages/measure';
import type { Phantom } from '../../phantoms/make-phantom.ts';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { castOf } from '../../support/marked.ts';

const SEED = 91;
let phantom: Phantom;
let cast: AlignedCast;
let measured: MeasuredCast;

/** A small turn about an axis and a shift, as between the first frame and the settled one. */
const small: Transform = (() => {
  const [c, s] = [Math.cos(0.03), Math.sin(0.03)];
  return frameTransform([c, s, 0], [-s, c, 0], [0, 0, 1], [2, -3, 1]);
})();

const inspect = (of: AlignedCast, roughness = 0.04): InspectedCast => ({ marks: [], surface: inspectionSurface(of.mesh, of.filled, of.opening === null), roughness, rippled: false, warnings: [] });
const measure = (of: AlignedCast): MeasuredCast => measureCast(of, { mesh: of.mesh, moved: new Uint8Array(of.mesh.positions.length / 3) }, inspect(of));

beforeAll(() => {
  phantom = makePhantom(SEED, { family: 'bones', side: 'right', triangles: 30_000, denseTriangles: 30_000, posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, top: 'capped', noise: 0.03, weave: 0.02 });
  const { scan, truth } = phantom;
  cast = { ...castOf(transformMesh(small, scan)), transform: small, landmarks: truth.landmarks };
  measured = measure(cast);
});

describe(`measuring the phantom of seed ${SEED}, whose first frame is 1.7° and 4 mm off`, () => {
  it('settles the frame within 0.5 mm RMS of the true one, and tells how', () => {
    const { clean } = phantom.truth;
    const moved = transformPositions(measured.transform, clean.positions);
    let sum = 0;
    moved.forEach((c, i) => (sum += (c - clean.positions[i]) ** 2));
    expect(Math.sqrt(sum / (moved.length / 3))).toBeLessThan(0.5);
    expect(measured.transform).toEqual(compose(measured.settle, cast.transform));
    expect(measured.mesh.positions).toEqual(transformPositions(measured.settle, cast.mesh.positions));
    expect(measured.mesh.triangles).toBe(cast.mesh.triangles);
  });

  it('takes lengths and widths within 0.5 mm and girths within 1 mm of the clean surface, each inside its uncertainty or near it', () => {
    const off: unknown[] = [];
    let compared = 0;
    for (const m of measured.measurements) {
      const reference = phantom.truth.measures[m.id];
      if (!isTaken(m) || reference === undefined || m.unit === 'deg') continue;
      compared++;
      const limit = m.id.endsWith('-girth') ? 1 : 0.5;
      if (Math.abs(m.value - reference) > Math.max(limit, m.id === 'arch-height' ? 1 : 0)) off.push([m.id, m.value, reference]);
    }
    expect(compared).toBeGreaterThan(12);
    expect(off).toEqual([]);
  });

  it('gives the same again from the settled frame: nothing moves by more than 0.02 mm', () => {
    const again = measure({ ...cast, mesh: measured.mesh, transform: measured.transform });
    const values = new Map(measured.measurements.map((m) => [m.id, isTaken(m) ? m.value : null]));
    for (const m of again.measurements) {
      const before = values.get(m.id) ?? null;
      expect(isTaken(m)).toBe(before !== null);
      if (isTaken(m) && before !== null) expect(Math.abs(m.value - before)).toBeLessThan(0.02);
    }
  });

  it('is surer of a smoother cast', () => {
    const rough = measureCast(cast, { mesh: cast.mesh, moved: new Uint8Array(cast.filled.length) }, inspect(cast, 0.8));
    const length = (m: MeasuredCast): number => {
      const found = m.measurements.find((one) => one.id === 'foot-length');
      return found !== undefined && isTaken(found) ? found.uncertainty : NaN;
    };
    expect(length(rough)).toBeGreaterThan(3 * length(measured));
  });
});

describe('what cannot be measured', () => {
  it('is refused with its own code', () => {
    const ends = [ellipsoid([6, 6, 6], [6, 0, 6], 3), ellipsoid([6, 6, 6], [254, 0, 6], 3)];
    const mesh = {
      positions: Float64Array.from([...ends[0].positions, ...ends[1].positions]),
      triangles: Uint32Array.from([...ends[0].triangles, ...ends[1].triangles.map((v) => v + ends[0].positions.length / 3)]),
    };
    let code = '';
    try {
      measure(castOf(mesh));
    } catch (error) {
      if (!(error instanceof CastError)) throw error;
      code = error.code;
    }
    expect(code).toBe('cannot-measure');
  });
});

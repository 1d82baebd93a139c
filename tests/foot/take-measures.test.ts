import { describe, expect, it } from 'vitest';
import type { Measurement, MeasureId, TakenMeasurement } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS, isTaken } from '@cast-to-last/foot/measures';
import type { TakeOptions } from '@cast-to-last/foot/measure-taker';
import { findLandmarks } from '@cast-to-last/foot/find-landmarks';
import type { Landmarks } from '@cast-to-last/foot/landmarks';
import { takeLastMeasures, takeMeasures } from '@cast-to-last/foot/take-measures';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { makePhantom } from '../phantoms/make-phantom.ts';
import { mirrorMesh } from '../phantoms/surface/mirror-mesh.ts';
import { cutTo } from '../support/disturb.ts';
import { ellipsePerimeter } from '../support/ellipse.ts';
import { ellipsoid } from '../support/ellipsoid.ts';

const OPTIONS: TakeOptions = { side: 'right', on: 'cast', roughness: 0.05, wholeTo: Infinity };

function measured(mesh: Mesh, options: Partial<TakeOptions> = {}, filled = new Uint8Array(mesh.positions.length / 3)): Map<MeasureId, Measurement> {
  const foot = takeMeasures({ mesh, twin: twins(mesh), filled }, { ...OPTIONS, ...options });
  return new Map(foot?.measurements.map((m) => [m.id, m]));
}

const value = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): number => {
  const m = found.get(id);
  return m !== undefined && isTaken(m) ? m.value : NaN;
};
const reason = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): string | null => {
  const m = found.get(id);
  return m === undefined || isTaken(m) ? null : m.absent;
};

const [A, B, C] = [130, 45, 35];
const body = ellipsoid([A, B, C], [A, 0, C], 6);
const halfWidth = (x: number): number => B * Math.sqrt(1 - ((x - A) / A) ** 2);

describe('measures of an ellipsoid on the rest plane, by closed form', () => {
  const found = measured(body);
  const [medial, lateral] = [[0.62 * 260, halfWidth(0.62 * 260)], [0.52 * 260, -halfWidth(0.52 * 260)]];
  const [dx, dy] = [medial[0] - lateral[0], medial[1] - lateral[1]];
  const width = Math.hypot(dx, dy);

  /** Perimeter of the section by the plane through the chord from (x0, z0) to (x1, z1) of the profile that holds Y. */
  const round = (x0: number, z0: number, x1: number, z1: number): number => {
    const [mx, mz] = [(x0 + x1) / 2 - A, (z0 + z1) / 2 - C];
    return ellipsePerimeter(Math.hypot(x1 - x0, z1 - z0) / 2, B * Math.sqrt(1 - (mx / A) ** 2 - (mz / C) ** 2));
  };

  it.each<[MeasureId, number, number]>([
    ['foot-length', 260, 0.01],
    ['foot-breadth', 90, 0.01],
    ['instep-height', 70, 0.02],
    ['heel-width', 2 * halfWidth(0.16 * 260), 0.02],
    ['toe-height', 2 * C * 0.6, 0.5],
    // The ball's points are read from a smooth surface, good to some hundredths on an outline that runs aslant.
    ['medial-ball-length', medial[0], 0.05],
    ['lateral-ball-length', lateral[0], 0.05],
    ['ball-width', width, 0.1],
    ['ball-angle', (Math.atan2(dx, dy) * 180) / Math.PI, 0.1],
  ])('%s is %f', (id, expected, tolerance) => {
    expect(Math.abs(value(found, id) - expected)).toBeLessThan(tolerance);
  });

  it('ball girth is the section by the upright plane through both ball points', () => {
    // On the line p + t·d (d unit) in plan, with X = x/A and Y = y/B: an ellipse whose upright half-axis is C·k.
    const d = [dx / width, dy / width];
    const q = d[0] ** 2 / A ** 2 + d[1] ** 2 / B ** 2;
    const p = ((lateral[0] - A) * d[0]) / A ** 2 + (lateral[1] * d[1]) / B ** 2;
    const s = ((lateral[0] - A) / A) ** 2 + (lateral[1] / B) ** 2;
    const k = Math.sqrt(1 - s + p ** 2 / q);
    expect(Math.abs(value(found, 'ball-girth') - ellipsePerimeter(k / Math.sqrt(q), C * k))).toBeLessThan(0.1);
  });

  it('instep girth is the least round through the top at half its length, waist girth through that half-way to the ball', () => {
    const least = (x: number): number => {
      const z = C + C * Math.sqrt(1 - ((x - A) / A) ** 2);
      let most = Infinity;
      for (let deg = -20; deg <= 60; deg += 0.1) {
        const [ux, uz] = [Math.sin((deg * Math.PI) / 180), Math.cos((deg * Math.PI) / 180)];
        const t = (-2 * (((x - A) * ux) / A ** 2 + ((z - C) * uz) / C ** 2)) / (ux ** 2 / A ** 2 + uz ** 2 / C ** 2);
        most = Math.min(most, round(x, z, x + t * ux, z + t * uz));
      }
      return most;
    };
    // Facets of 2.3 mm lie 0.005 mm inside all round, 0.03 mm; at a slant the girth is cut where the station says, exactly.
    expect(Math.abs(value(found, 'instep-girth') - least(A))).toBeLessThan(0.05);
    expect(Math.abs(value(found, 'waist-girth') - least((A + (medial[0] + lateral[0]) / 2) / 2))).toBeLessThan(0.05);
  });

  it('long heel girth goes through the heel corner and the instep', () => {
    const norm = Math.hypot(A, C);
    const expected = round(A - A ** 2 / norm, C - C ** 2 / norm, A, 2 * C);
    // The corner slides along the heel by a facet of 2 mm, which turns the plane by 1 in 130.
    expect(Math.abs(value(found, 'long-heel-girth') - expected)).toBeLessThan(0.3);
  });

  it('arch height is the highest of the sole\'s medial third that faces down within 45°', () => {
    let expected = 0;
    for (let x = 0.35 * 260; x <= 0.55 * 260; x += 0.1) {
      const w = halfWidth(x);
      for (let y = w / 3; y < w; y += 0.05) {
        const h = Math.sqrt(Math.max(0, 1 - ((x - A) / A) ** 2 - (y / B) ** 2));
        const n = [(x - A) / A ** 2, y / B ** 2, -h / C];
        if (n[2] <= -Math.SQRT1_2 * Math.hypot(...n)) expected = Math.max(expected, C - C * h);
      }
    }
    // The limit is taken at vertices, where the sole rises as fast as it goes out: an edge of 0.8 mm each way.
    expect(Math.abs(value(found, 'arch-height') - expected)).toBeLessThan(0.9);
  });

  it('the ankle girth is absent, with the reason; nothing is given twice or left out', () => {
    expect(reason(found, 'ankle-girth')).toMatch(/does not reach/);
    expect([...found.keys()]).toEqual(Object.keys(MEASURE_LABELS));
    for (const m of found.values()) {
      expect(m.label).toBe(MEASURE_LABELS[m.id]);
      expect(m.on).toBe('cast');
      if (!isTaken(m)) continue;
      expect(m.unit).toBe(m.id === 'ball-angle' ? 'deg' : 'mm');
      expect(m.uncertainty).toBeGreaterThan(0);
      expect(m.onFilled).toBe(0);
      expect(m.tape !== undefined).toBe(m.id.endsWith('-girth'));
      expect(m.ends !== undefined).toBe(!/-girth|-angle/.test(m.id));
    }
  });

  it.each<[MeasureId, (dx: number, dy: number, dz: number) => number]>([
    ['foot-length', (x) => x], ['medial-ball-length', (x) => x], ['lateral-ball-length', (x) => x], ['ball-width', (x, y) => Math.hypot(x, y)],
    ['foot-breadth', (_x, y) => y], ['heel-width', (_x, y) => y], ['instep-height', (_x, _y, z) => z], ['toe-height', (_x, _y, z) => z], ['arch-height', (_x, _y, z) => z],
  ])('%s is what its two ends on the surface, or one and the rest plane, are apart', (id, along) => {
    const { value: taken, ends } = found.get(id) as TakenMeasurement;
    if (ends === undefined) throw new Error('no ends');
    expect(along(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1], ends[1][2] - ends[0][2])).toBeCloseTo(taken, 9);
    const off = ends.map(([x, y, z]) => Math.abs(Math.hypot((x - A) / A, y / B, (z - C) / C) - 1));
    // The ball points are those of a smooth surface, beside the facets.
    expect(Math.min(...off)).toBeLessThan(0.01);
    if (!/^(instep|arch)-height$/.test(id)) expect(Math.max(...off)).toBeLessThan(0.01);
  });

  it('on surface that repair made, say that they lie on it and are less sure by its 2 mm, heights by those of the floor, too; the values stay', () => {
    const made = measured(body, {}, new Uint8Array(body.positions.length / 3).fill(1));
    for (const id of ['foot-length', 'instep-height', 'ball-girth', 'instep-girth'] as const) {
      const [scanned, filled] = [found.get(id) as TakenMeasurement, made.get(id) as TakenMeasurement];
      expect(filled.value).toBe(scanned.value);
      expect(filled.onFilled).toBe(1);
      if (id !== 'instep-height') expect(filled.uncertainty).toBeCloseTo(Math.hypot(scanned.uncertainty, 2), 9);
    }
    // A height is less sure by the floor as well, which heel and ball bear together.
    const [scanned, filled] = [found, made].map((of) => (of.get('instep-height') as TakenMeasurement).uncertainty);
    const ahead = (0.5 - 0.16) / ((0.62 + 0.52) / 2 - 0.16);
    expect(filled).toBeCloseTo(Math.hypot(scanned, 2, 2 * Math.hypot(1 - ahead, ahead)), 2);
  });

  it('are the same on the mirrored body as a left one, and as those of a last', () => {
    const left = measured(mirrorMesh(body), { side: 'left', on: 'last' });
    for (const [id, m] of found) {
      if (isTaken(m)) expect(value(left, id)).toBeCloseTo(m.value, 2);
      expect(left.get(id)?.on).toBe('last');
    }
  });
});

describe('uncertainty', () => {
  it('grows with the roughness of the surface, and where a landmark can slide', () => {
    const [smooth, rough] = [0.02, 0.2].map((roughness) => measured(body, { roughness }));
    const of = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): number => (found.get(id) as TakenMeasurement).uncertainty;
    for (const id of ['foot-length', 'ball-girth', 'instep-height', 'lateral-ball-length'] as const) expect(of(rough, id)).toBeGreaterThan(of(smooth, id));
    // The outline runs nearly along the axis at the outside ball point: the place is far less sure than the length.
    expect(of(smooth, 'lateral-ball-length')).toBeGreaterThan(10 * of(smooth, 'foot-length'));
  });

  it('of a last is that of measuring at stations that are given, which slide nowhere', () => {
    const surface = { mesh: body, twin: twins(body), filled: new Uint8Array(body.positions.length / 3) };
    const stations = takeMeasures(surface, OPTIONS)?.landmarks as Landmarks;
    const last = new Map((takeLastMeasures(surface, stations, { ...OPTIONS, on: 'last' }) ?? []).map((m) => [m.id, m]));
    const cast = measured(body);
    for (const id of ['medial-ball-length', 'lateral-ball-length', 'ball-girth', 'ball-width', 'ball-angle'] as const) {
      expect(Math.abs(value(last, id) - value(cast, id)), id).toBeLessThan(0.1);
      const [onLast, onCast] = [last, cast].map((found) => (found.get(id) as TakenMeasurement).uncertainty);
      expect(onLast, id).toBeLessThan(0.25);
      expect(onLast, id).toBeLessThan(0.8 * onCast);
    }
  });
});

describe('made-up surface', () => {
  const made = (where: (x: number, y: number, z: number) => boolean): Map<MeasureId, Measurement> =>
    measured(body, {}, Uint8Array.from({ length: body.positions.length / 3 }, (_, v) => +where(body.positions[3 * v], body.positions[3 * v + 1], body.positions[3 * v + 2])));
  const share = (found: ReadonlyMap<MeasureId, Measurement>, id: MeasureId): number => (found.get(id) as TakenMeasurement).onFilled;

  it('under the sole counts for girths by the share of their line, and not for the length', () => {
    const found = made((_x, _y, z) => z < C);
    expect(share(found, 'instep-girth')).toBeCloseTo(0.5, 1);
    expect(share(found, 'ball-girth')).toBeCloseTo(0.5, 1);
    expect(share(found, 'instep-height')).toBe(0);
    expect(share(found, 'arch-height')).toBe(1);
  });

  it('at the toe tip counts for the length and nothing behind', () => {
    const found = made((x) => x > 240);
    expect(share(found, 'foot-length')).toBeGreaterThan(0.3);
    expect(share(found, 'toe-height')).toBe(1);
    for (const id of ['ball-girth', 'instep-girth', 'heel-width', 'medial-ball-length'] as const) expect(share(found, id)).toBe(0);
  });
});

describe('casts that stop short', () => {
  it('open over the instep: what hangs on it is absent with a reason, the rest is taken', () => {
    const found = measured(cutTo(body, (x, _y, z) => z < 64 || x > 175), { wholeTo: 62 });
    for (const id of ['instep-height', 'instep-girth', 'waist-girth', 'long-heel-girth', 'short-heel-girth', 'ankle-girth'] as const) {
      expect(reason(found, id)).toMatch(/^[A-Z].*\.$/);
    }
    for (const id of ['foot-length', 'ball-width', 'foot-breadth', 'heel-width', 'toe-height'] as const) expect(value(found, id)).toBeGreaterThan(10);
  });

  it('open across the ball: the ball girth is absent', () => {
    expect(reason(measured(cutTo(body, (x, y, z) => z < 60 || Math.hypot(x - 150, y) > 15)), 'ball-girth')).toMatch(/open/);
  });

  it('without heel or ball there are no measures and no landmarks', () => {
    const ball = ellipsoid([5, 5, 5], [0, 0, 5], 2);
    const far = { positions: Float64Array.from([...ball.positions, ...ball.positions.map((c, i) => (i % 3 === 0 ? c + 250 : c))]), triangles: Uint32Array.from([...ball.triangles, ...ball.triangles.map((v) => v + ball.positions.length / 3)]) };
    const surface = { mesh: far, twin: twins(far), filled: new Uint8Array(far.positions.length / 3) };
    expect(takeMeasures(surface, OPTIONS)).toBeNull();
    expect(findLandmarks(surface, 'left', Infinity)).toBeNull();
  });
});

describe('measures of phantoms\' clean surfaces against their reference', () => {
  it.each([[61, 'bones', 'right'], [62, 'sections', 'left']] as const)('seed %i (%s, %s): lengths and widths within 0.3 mm, girths within 0.5 mm, the angle within 0.5°', (seed, family, side) => {
    const { truth } = makePhantom(seed, { family, side, posed: false, triangles: 6000, denseTriangles: 60_000, dents: 0, bumps: 0, ridges: 0, seam: false, top: 'cut', rise: 110 });
    let top = -Infinity;
    for (let i = 2; i < truth.clean.positions.length; i += 3) top = Math.max(top, truth.clean.positions[i]);
    const found = measured(truth.clean, { side, wholeTo: top - 12 });
    const apart = Object.entries(truth.measures).map(([id, reference]) => {
      const limit = id.endsWith('-girth') ? 0.5 : id === 'ball-angle' ? 0.5 : 0.3;
      return { id, error: value(found, id as MeasureId) - reference, limit };
    });
    expect(apart.length).toBe(16);
    expect(apart.filter(({ error, limit }) => !(Math.abs(error) <= limit))).toEqual([]);
  });
});

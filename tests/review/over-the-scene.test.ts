import { describe, expect, it } from 'vitest';
import type { ReportedMeasurement } from '@cast-to-last/pipeline/report/report';
import { hiddenFrom } from '../../services/review/src/parts/geometry/hidden-from.ts';
import { keep } from '../../services/review/src/parts/geometry/kept-bodies.ts';
import { measurePlan } from '../../services/review/src/bench/scene/measure-plan.ts';
import { WordPlaces } from '../../services/review/src/bench/scene/word-places.ts';
import { icosphere } from '../support/meshes.ts';
import { rng } from '../support/rng.ts';

describe('words over the scene', () => {
  it('lie (seed 11) on no other and on the canvas, and stay where they are where nothing is in the way', () => {
    const { next: random } = rng(11);
    const places = new WordPlaces();
    for (let frame = 0; frame < 20; frame++) {
      places.clear(800);
      const laid = Array.from({ length: 40 }, () => {
        const [x, y] = [-40 + 850 * random(), 600 * random()];
        const asked = { left: x, right: x + 60 + 60 * random(), top: y, bottom: y + 18 };
        const [dx, dy] = places.place(asked);
        return { left: asked.left + dx, right: asked.right + dx, top: asked.top + dy, bottom: asked.bottom + dy };
      });
      for (const [i, a] of laid.entries()) {
        expect(a.left).toBeGreaterThanOrEqual(0);
        expect(a.right).toBeLessThanOrEqual(800);
        for (const b of laid.slice(0, i)) expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false);
      }
    }
    places.clear(800);
    expect(places.place({ left: 10, right: 90, top: 10, bottom: 28 })).toEqual([0, 0]);
    expect(places.place({ left: 100, right: 190, top: 10, bottom: 28 })).toEqual([0, 0]);
    // Up is nearer than down.
    expect(places.place({ left: 20, right: 80, top: 0, bottom: 18 })).toEqual([0, -10]);
  });
});

describe('lengths and widths on the scene', () => {
  const taken = (id: string, value: number, ends: readonly [readonly [number, number, number], readonly [number, number, number]]): ReportedMeasurement => ({ id, label: id, value, unit: 'mm', uncertainty: 0.2, on: 'cast', onFilled: 0, ends });
  const measurements: ReportedMeasurement[] = [
    taken('foot-length', 260, [[0, -3, 20], [260, 12, 14]]), taken('medial-ball-length', 190, [[0, -3, 20], [190, 48, 15]]), taken('lateral-ball-length', 160, [[0, -3, 20], [160, -47, 12]]),
    taken('ball-width', Math.hypot(30, 95), [[160, -47, 12], [190, 48, 15]]), taken('foot-breadth', 96, [[161, -47.5, 12], [189, 48.5, 15]]), taken('heel-width', 66, [[42, -32, 9], [42, 34, 11]]),
    taken('instep-height', 62, [[130, 5, 0], [130, 5, 62]]), taken('toe-height', 21, [[240, 30, 2], [235, 10, 23]]),
    { id: 'waist-girth', label: 'waist girth', value: 240, unit: 'mm', uncertainty: 0.3, on: 'cast', onFilled: 0 }, { id: 'ankle-girth', label: 'ankle girth', on: 'cast', absent: 'It stops short.' },
  ];

  it.each(['left', 'right'] as const)('are drawn as long as they are, each on its own line, clear of the %s foot', (side) => {
    const way = side === 'right' ? 1 : -1;
    const own = measurements.map((m) => ('ends' in m && m.ends !== undefined ? { ...m, ends: m.ends.map(([x, y, z]) => [x, way * y, z] as const) as unknown as typeof m.ends } : m));
    const { words, strong, places } = measurePlan(own, side);
    expect(words.map(({ measured }) => measured.id)).toEqual(measurements.slice(0, 8).map(({ id }) => id));
    for (const { measured, line: [a, b] } of words) expect(Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])).toBeCloseTo(measured.value, 9);
    const at = Object.fromEntries(words.map(({ measured, line }) => [measured.id, line[0]]));
    expect(way * at['medial-ball-length'][1]).toBeGreaterThan(48.5);
    expect(-way * at['lateral-ball-length'][1]).toBeGreaterThan(47.5);
    expect(-way * at['foot-length'][1]).toBeGreaterThan(-way * at['lateral-ball-length'][1] + 5);
    expect(at['foot-breadth'][0]).toBeGreaterThan(260);
    expect(at['heel-width'][0]).toBeLessThan(0);
    expect(strong.length).toBe(8 * 3 * 6);
    expect(places.length).toBe(15);
  });

  it('are none where a report does not say where they lie', () => {
    expect(measurePlan([{ id: 'foot-length', label: 'foot length', value: 260, unit: 'mm', uncertainty: 0.2, on: 'cast', onFilled: 0 }], 'left').words).toEqual([]);
  });
});

describe('what hides a pin', () => {
  it('is the body between it and the viewer, however the ground there leans', () => {
    keep('left:hides', icosphere(50, 5));
    const points: number[] = [];
    const hidden: number[] = [];
    for (let deg = 0; deg < 360; deg += 4) {
      // From 1,000 mm the edge of the sphere is seen 87° from the middle; just over it a place may be taken for seen.
      const off = Math.min(deg, 360 - deg);
      if (off > 86 && off < 100) continue;
      points.push(53 * Math.cos((deg * Math.PI) / 180), 0, 53 * Math.sin((deg * Math.PI) / 180));
      hidden.push(off > 87 ? 1 : 0);
    }
    expect([...(hiddenFrom({ body: 'left:hides', from: [1000, 0, 0], points: Float32Array.from(points) }) ?? [])]).toEqual(hidden);
    expect(hiddenFrom({ body: 'left:nothing', from: [1000, 0, 0], points: new Float32Array(3) })).toBeNull();
  });
});

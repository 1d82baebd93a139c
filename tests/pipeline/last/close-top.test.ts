import { describe, expect, it } from 'vitest';
import { tapeRound } from '@cast-to-last/geometry/sections/tape';
import { section } from '@cast-to-last/geometry/sections/section';
import { readBinaryStl, writeStl } from '@cast-to-last/geometry/formats/stl';
import { writeThreeMf } from '@cast-to-last/geometry/formats/threemf';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { eulerCharacteristic, signedVolume } from '@cast-to-last/geometry/mesh/quantities';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { weighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { closeTop } from '@cast-to-last/pipeline/last/close-top';
import type { ClosedLast } from '@cast-to-last/pipeline/last/close-top';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { box, closedCylinder, merged } from '../../support/meshes.js';
import { readThreeMf } from '../../support/read-threemf.js';
import { bodyOf, closing, footBody, shifted } from '../../support/top-bodies.js';
import { refusalOf } from '../../support/refusal-of.js';

type WeighedLast = ClosedLast & { readonly volume: number };

const close = async (body: LastBody, rules: Record<string, unknown>, orderNumber: string | null = null): Promise<WeighedLast> => {
  const closed = await withSolids((scope) => closeTop(scope, body, closing(rules), orderNumber === null ? null : { orderNumber }));
  return { ...closed, volume: await weighSolid(closed.mesh) };
};

/** A block 100 long, 60 wide, 120 high, that stands on z = 0 about the origin's axis. */
const block = bodyOf(shifted(box(100, 60, 120, 4), [0, 0, 60]), { heelCentre: [-30, 0, 0], ballCentre: [25, 0, 0], medialBall: [25, 30, 10], lateralBall: [25, -30, 10] });
const foot = footBody(7, 'right');
const leftFoot = footBody(19, 'left');

/** Closed, of one piece without a handle and without crossings, also for who joins vertices by their place in a file; positive. */
async function expectSolid({ mesh, volume }: WeighedLast): Promise<void> {
  const read = weld(readBinaryStl(writeStl(mesh), 1e6).mesh).mesh;
  const twin = twins(read);
  expect(twin.every((h) => h >= 0)).toBe(true);
  expect(eulerCharacteristic(read, twin)).toBe(2);
  expect(selfCrossings(read).includes(1)).toBe(false);
  expect(await withSolids((scope) => scope.ofMesh(read).decompose().length)).toBe(1);
  expect(Math.abs(signedVolume(mesh) / volume - 1)).toBeLessThan(1e-5);
}

/** Area of the regular 64-sided prism that stands for a round hole. */
const round = (diameter: number): number => 32 * (diameter / 2) ** 2 * Math.sin((2 * Math.PI) / 64);

describe('closeTop without rules of the top', () => {
  it('closes the opening and leaves the surface as it is, to 32-bit floats', async () => {
    const last = await close(foot, {});
    expect(last.mesh.positions.subarray(0, foot.mesh.positions.length)).toEqual(Float64Array.from(foot.mesh.positions, Math.fround));
    expect(last.mesh.triangles.subarray(0, foot.mesh.triangles.length)).toEqual(foot.mesh.triangles);
    await expectSolid(last);
    expect({ changes: last.changes, warnings: last.warnings, top: last.top }).toEqual({ changes: [], warnings: [], top: null });
    expect(last.wholeTo).toBe(Math.min(...Array.from(foot.opening as Uint32Array, (v) => foot.mesh.positions[3 * v + 2])));
  });
  it('leaves a closed body alone', async () => {
    const last = await close(block, {});
    expect(last.mesh.triangles).toEqual(block.mesh.triangles);
    expect(last.wholeTo).toBe(Infinity);
  });
});

describe('the cut', () => {
  it('is flat at the height asked for, on a block to its exact volume', async () => {
    const last = await close(block, { topHeightMm: 80 });
    expect(last.volume).toBeCloseTo(100 * 60 * 80, 1);
    expect(bounds(last.mesh.positions)[5]).toBe(80);
    expect(last.changes).toEqual([expect.objectContaining({ id: 'top-height', unit: 'mm', before: 120, asked: 80, got: expect.closeTo(80, 5) })]);
    await expectSolid(last);
  });
  it('runs along the top line through its heights, level across', async () => {
    const last = await close(block, { top: { line: { backMm: 60, frontMm: 90 } } });
    expect(last.volume).toBeCloseTo(100 * 60 * 75, 1);
    expect(last.wholeTo).toBeCloseTo(60, 4);
    expect(last.changes.map((c) => [c.id, c.asked, Math.round(1e4 * c.got) / 1e4])).toEqual([['top-line-back', 60, 60], ['top-line-front', 90, 90]]);
    expect(last.top?.plane.normal[1]).toBe(0);
    await expectSolid(last);
  });
  it('meets the foot at the heights of the line, back and front', async () => {
    const last = await close(leftFoot, { top: { line: { backMm: 65, frontMm: 95 } } });
    for (const change of last.changes) expect(Math.abs(change.got - (change.asked as number))).toBeLessThan(0.01);
    await expectSolid(last);
  });
  it('of a body with two necks is made, but not worked on', async () => {
    const necks = bodyOf(merged(shifted(box(20, 20, 100, 2), [-30, 0, 50]), shifted(box(20, 20, 100, 2), [30, 0, 50])));
    expect((await close(necks, { topHeightMm: 70 })).volume).toBeCloseTo(2 * 20 * 20 * 70, 1);
    expect((await refusalOf(close(necks, { topHeightMm: 70, top: { coneMm: 10 } }))).code).toBe('top-in-pieces');
  });
  it.each([
    ['a height above the end', foot, { topHeightMm: 200 }, 'top-too-low', 'topHeightMm'],
    ['a line above the end', leftFoot, { top: { line: { backMm: 148, frontMm: 149 } } }, 'top-too-low', 'top.line'],
    ['a line at heights that the cast does not have', foot, { top: { line: { backMm: 250, frontMm: 260 } } }, 'top-too-low', 'backMm'],
    ['a steep line', foot, { top: { line: { backMm: 40, frontMm: 170 } } }, 'top-line-too-steep', 'frontMm'],
    ['a line that falls into the forefoot', foot, { top: { line: { backMm: 130, frontMm: 70 } } }, 'top-line-cuts-forefoot', 'frontMm'],
    ['a worked top of a closed body without a height', block, { top: { coneMm: 20 } }, 'top-needs-height', 'topHeightMm'],
  ])('refuses %s, and says what to do', async (_, body, rules, code, rule) => {
    const error = await refusalOf(close(body, rules));
    expect(error.code).toBe(code);
    expect(error.remedy).toContain(rule);
  });
  it('stands a little below the opening, with a warning, where a worked top has no height', async () => {
    const last = await close(foot, { top: { stationMarks: true } });
    const lowest = Math.min(...Array.from(foot.opening as Uint32Array, (v) => foot.mesh.positions[3 * v + 2]));
    expect(bounds(last.mesh.positions)[5]).toBeCloseTo(lowest - 0.5, 4);
    expect(last.warnings).toEqual([expect.stringContaining(`${(lowest - 0.5).toFixed(1)} mm`)]);
    await expectSolid(last);
  });
});

describe('holes', () => {
  it('have the volume of their prisms, and make no handle', async () => {
    const last = await close(block, { topHeightMm: 80, top: { thimble: { diameterMm: 20, depthMm: 50 }, pins: [{ diameterMm: 6, depthMm: 30, along: 0.15 }, { diameterMm: 8, depthMm: 25, along: 0.85, across: 0.75 }] } });
    expect(last.volume).toBeCloseTo(100 * 60 * 80 - round(20) * 50 - round(6) * 30 - round(8) * 25, 0);
    await expectSolid(last);
  });
  it('go in at right angles to a sloping top', async () => {
    const last = await close(block, { top: { line: { backMm: 60, frontMm: 90 }, thimble: { diameterMm: 20, depthMm: 40 } } });
    expect(last.volume).toBeCloseTo(100 * 60 * 75 - round(20) * 40, 0);
    await expectSolid(last);
  });
  it('are refused where less than 2 mm of wall would stand, with the depth that works', async () => {
    expect((await close(block, { topHeightMm: 80, top: { thimble: { diameterMm: 20, depthMm: 77.9 } } })).volume).toBeCloseTo(480_000 - round(20) * 77.9, 0);
    const deep = await refusalOf(close(block, { topHeightMm: 80, top: { thimble: { diameterMm: 20, depthMm: 78.5 } } }));
    expect(deep.code).toBe('thimble-breaks-through');
    expect(deep.message).toContain('1.5 mm');
    expect(deep.remedy).toContain('last.top.thimble.depthMm in the rules to 78 or less');
    const through = await refusalOf(close(block, { topHeightMm: 80, top: { thimble: { diameterMm: 58, depthMm: 10 } } }));
    expect(through.message).toContain('1.0 mm');
    const pin = await refusalOf(close(block, { topHeightMm: 80, top: { pins: [{ diameterMm: 6, depthMm: 20, along: 0.04 }] } }));
    expect([pin.code, pin.remedy.includes('last.top.pins[0]')]).toEqual(['pin-breaks-through', true]);
    const off = await refusalOf(close(block, { topHeightMm: 80, top: { pins: [{ diameterMm: 6, depthMm: 20, along: 0.5, across: 0 }] } }));
    expect(off.message).toContain('break through');
  });
  it('are refused where they stand too close to each other', async () => {
    const error = await refusalOf(close(block, { topHeightMm: 80, top: { thimble: { diameterMm: 20, depthMm: 20 }, pins: [{ diameterMm: 6, depthMm: 20, along: 0.64 }] } }));
    expect(error.code).toBe('holes-too-close');
    expect(error.message).toContain('1.0 mm');
  });
});

describe('the cone', () => {
  it('carries a cylinder on as a cylinder', async () => {
    const pillar = bodyOf(shifted(closedCylinder(30, 100, 96, 30), [0, 0, 0]), { heelCentre: [-10, 0, 0], ballCentre: [10, 0, 0] });
    const low = bounds(pillar.mesh.positions)[2];
    const plain = await close(pillar, { topHeightMm: 60 });
    const carried = await close(pillar, { topHeightMm: 60, top: { coneMm: 40 } });
    expect(bounds(carried.mesh.positions)[5]).toBe(100);
    expect((carried.volume - plain.volume) / ((plain.volume * 40) / (60 - low))).toBeCloseTo(1, 2);
    expect(carried.changes).toContainEqual(expect.objectContaining({ id: 'cone', before: 0, asked: 40, got: expect.closeTo(40, 4) }));
    await expectSolid(carried);
  });
  it.each([
    ['right, level, short', foot, { topHeightMm: 80, top: { coneMm: 6 } }],
    ['right, level, low and long', foot, { topHeightMm: 52, top: { coneMm: 60 } }],
    ['left, along the line', leftFoot, { top: { line: { backMm: 65, frontMm: 95 }, coneMm: 30 } }],
    ['left, high above the ankle', leftFoot, { topHeightMm: 135, top: { coneMm: 25 } }],
  ])('of a foot (%s) is a solid, leaves what lies below, and does not flare', async (_, body, rules) => {
    const plain = await close(body, { ...rules, top: { ...rules.top, coneMm: 0 } });
    const last = await close(body, rules);
    await expectSolid(last);
    expect(last.warnings).toEqual([]);
    const n = plain.mesh.positions.length;
    expect(last.mesh.positions.subarray(0, n)).toEqual(plain.mesh.positions);
    const width = (top: Float64Array, axis: number): number => {
      const along = top.filter((_c, i) => i % 2 === axis);
      return Math.max(...along) - Math.min(...along);
    };
    for (const axis of [0, 1]) expect(width(last.top?.outline as Float64Array, axis)).toBeLessThan(width(plain.top?.outline as Float64Array, axis) + 3);
  });
});

describe('number, side and marks', () => {
  const marks = { topHeightMm: 80, top: { coneMm: 25, thimble: { diameterMm: 14, depthMm: 40 }, pins: [{ diameterMm: 5, depthMm: 20, along: 0.3, across: 0.8 }], stationMarks: true } };
  it.each([['right', foot], ['left', leftFoot]])('of a %s foot, engraved and raised, give a solid', async (_, body) => {
    const bare = await close(body, marks, '2041-B/17');
    const engraved = await close(body, { ...marks, top: { ...marks.top, label: 'engraved' } }, '2041-B/17');
    const raised = await close(body, { ...marks, top: { ...marks.top, label: 'raised', labelDepthMm: 0.6 } }, '2041-B/17');
    for (const last of [bare, engraved, raised]) {
      await expectSolid(last);
      expect(last.warnings).toEqual([]);
    }
    expect((raised.volume - bare.volume) / (bare.volume - engraved.volume)).toBeCloseTo(1, 2);
    expect(bounds(raised.mesh.positions)[5]).toBeCloseTo(105.6, 4);
    expect(bounds(engraved.mesh.positions)[5]).toBe(105);
  });
  it('are read back from 3MF as the same closed solid', async () => {
    const last = await close(foot, { ...marks, top: { ...marks.top, label: 'engraved' } }, '2041-B/17');
    const [object, ...others] = (await readThreeMf(await writeThreeMf(last.mesh))).objects;
    expect(others).toEqual([]);
    const read = await withSolids((scope) => {
      const solid = scope.ofMesh(object.mesh);
      return { volume: solid.volume, genus: solid.genus };
    });
    expect(read.genus).toBe(0);
    expect(Math.abs(read.volume / last.volume - 1)).toBeLessThan(1e-5);
  });
  it('cut grooves 0.4 mm deep into the sole at ball and heel', async () => {
    const plain = await close(block, { topHeightMm: 80 });
    const marked = await close(block, { topHeightMm: 80, top: { stationMarks: true } });
    // Four strokes of 5 × 0.8 mm on the sole; two of 8 mm with round ends of 12 corners in all on the top.
    const ends = 12 * 0.5 * 0.4 ** 2 * Math.sin(Math.PI / 6);
    expect(plain.volume - marked.volume).toBeCloseTo(0.4 * (4 * 5 * 0.8 + 2 * (8 * 0.8 + ends)), 1);
    await expectSolid(marked);
  });
  it('are not felt by a tape at the ball or across the heel', async () => {
    const plain = await close(foot, { topHeightMm: 80 });
    const marked = await close(foot, { topHeightMm: 80, top: { stationMarks: true } });
    expect(marked.volume).toBeLessThan(plain.volume - 5);
    const { medialBall: m, lateralBall: l, heelCentre } = foot.landmarks;
    const size = Math.hypot(m[0] - l[0], m[1] - l[1]);
    const ball = [(m[1] - l[1]) / size, (l[0] - m[0]) / size, 0];
    const girth = (mesh: Mesh, n: readonly number[], offset: number): number => {
      const [curve] = section(mesh, twins(mesh), n, offset);
      return tapeRound(curve.points, [-n[1], n[0], 0], [0, 0, 1]).length;
    };
    for (const [n, offset] of [[ball, ball[0] * m[0] + ball[1] * m[1]], [[1, 0, 0], heelCentre[0]]] as const) {
      expect(Math.abs(girth(marked.mesh, n, offset) - girth(plain.mesh, n, offset))).toBeLessThan(1e-4);
    }
  });
  it('leave out letters that a small top has no room for, and say so', async () => {
    const thin = bodyOf(shifted(box(30, 8, 90, 3), [0, 0, 45]), { heelCentre: [-10, 0, 0], ballCentre: [8, 0, 0] });
    const last = await close(thin, { topHeightMm: 60, top: { label: 'engraved' } }, '2041-B/17');
    expect(last.warnings).toEqual([expect.stringContaining('no room')]);
    expect(last.volume).toBeCloseTo(30 * 8 * 60, 1);
  });
  it('write a crossed box for a character without strokes, and say which', async () => {
    const last = await close(block, { topHeightMm: 80, top: { label: 'engraved' } }, '20é41');
    expect(last.warnings).toEqual([expect.stringContaining('"é"')]);
    expect(last.volume).toBeLessThan((await close(block, { topHeightMm: 80, top: { label: 'engraved' } }, '20-41')).volume);
    await expectSolid(last);
  });
  it('come out the same twice', async () => {
    const once = await close(foot, { ...marks, top: { ...marks.top, label: 'engraved' } }, '2041');
    expect(await close(foot, { ...marks, top: { ...marks.top, label: 'engraved' } }, '2041')).toEqual(once);
  });
  it('stay out of an open surface that has another hole: the modeller refuses', async () => {
    const holed = { ...foot, mesh: { ...foot.mesh, triangles: foot.mesh.triangles.slice(3) } };
    await expect(close(holed, marks)).rejects.toThrow(expect.objectContaining({ name: 'SolidError', code: 'not-manifold' }));
    expect(boundaryLoops(holed.mesh).length).toBeGreaterThan(1);
  });
});

import { describe, expect, it } from 'vitest';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { figuresTable } from './figures.js';
import { makePhantom, type Phantom } from '../make-phantom.js';
import { scoreCast, type CastResult } from './score.js';
import { percentile, rms } from './score-surface.js';

/** Hands back the truth itself: every vertex of the scan on the clean surface. */
const oracle = (phantom: Phantom): CastResult => {
  const { truth, scan } = phantom;
  const keep: number[] = [];
  for (let t = 0; t < scan.triangles.length; t += 3) {
    const corners = [...scan.triangles.subarray(t, t + 3)];
    if (corners.every((v) => !Number.isNaN(truth.cleanPositions[3 * v]))) keep.push(...corners);
  }
  const last = Math.max(...keep.reduce<number[]>((m, v) => [Math.max(m[0], v)], [0]));
  return {
    transform: truth.transform,
    measurements: Object.entries(truth.measures).map(([id, value]) => ({ id, value: value as number, on: 'cast' })),
    marks: truth.marks.map((m) => ({ kind: m.kind, centre: m.centre, depth: m.depth })),
    cleaned: { positions: truth.cleanPositions.slice(0, 3 * (last + 1)), triangles: Uint32Array.from(keep) },
    secondPassMarks: 0,
  };
};

/** Aligns perfectly and does nothing else. */
const idle = (phantom: Phantom): CastResult => ({
  transform: phantom.truth.transform,
  measurements: [{ id: 'foot-length', absent: 'not tried' }],
  marks: [],
  cleaned: transformMesh(phantom.truth.transform, phantom.scan),
});

describe('scoring a program against a phantom (seed 7)', () => {
  const phantom = makePhantom(7, { triangles: 25_000, denseTriangles: 25_000, dents: 6, bumps: 2, ridges: 2, seam: true, debris: false, markDepth: [0.9, 4] });

  it('gives full marks to an oracle', () => {
    const score = scoreCast(phantom, oracle(phantom));
    expect(score.frameRms).toBeLessThan(1e-9);
    expect(score.marks.planted.every((m) => m.found)).toBe(true);
    expect(score.marks.planted.length).toBeGreaterThanOrEqual(9);
    expect(score.marks.falseMarks).toHaveLength(0);
    expect(score.measures.every((m) => m.error === 0)).toBe(true);
    expect(rms(score.surface.fingers)).toBeLessThan(1e-5);
    expect(rms(score.surface.fingersScanned)).toBeGreaterThan(0.3);
    expect(percentile(score.surface.elsewhere, 0.995)).toBeLessThan(1e-5);
    // What is left against the textured surface is the texture itself.
    expect(rms(score.surface.elsewhereTextured)).toBeGreaterThan(0.003);
    expect(figuresTable([score], [])).toContain('100.0 %');
  });

  it('gives nothing to a program that does nothing', () => {
    const score = scoreCast(phantom, idle(phantom));
    expect(score.marks.planted.some((m) => m.found)).toBe(false);
    expect(score.measures.find((m) => m.id === 'foot-length')).toMatchObject({ error: null, missed: true });
    // As scanned: the marks are still there, give or take texture and noise.
    expect(rms(score.surface.fingers)).toBeGreaterThan(0.9 * rms(score.surface.fingersScanned));
    expect(rms(score.surface.elsewhere)).toBeGreaterThan(0.02);
    expect(figuresTable([score], [{ seed: 8, why: 'a reason' }])).toContain('| 8 | a reason |');
  });

  it('sees a frame that is off, and does not count it against the surface', () => {
    const off = oracle(phantom);
    const shift = new Float64Array([1, 0, 0, 2, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);
    const moved: CastResult = {
      ...off,
      transform: Float64Array.from(off.transform).map((c, i) => (i === 3 ? c + 2 : c)),
      cleaned: transformMesh(shift, off.cleaned),
      marks: off.marks.map((m) => ({ ...m, centre: [m.centre[0] + 2, m.centre[1], m.centre[2]] as const })),
    };
    const score = scoreCast(phantom, moved);
    expect(score.frameRms).toBeCloseTo(2, 9);
    expect(rms(score.surface.elsewhere)).toBeLessThan(1e-5);
    expect(score.marks.planted.every((m) => m.found)).toBe(true);
  });

  it('counts reports off the marks, of the wrong sign, and third pieces as false', () => {
    const truthful = oracle(phantom).marks;
    const dent = truthful.find((m) => m.kind === 'dent') as (typeof truthful)[number];
    const far = { ...dent, centre: [dent.centre[0] + 400, 0, 0] as const };
    expect(scoreCast(phantom, { ...oracle(phantom), marks: [...truthful, far] }).marks.falseMarks).toHaveLength(1);
    expect(scoreCast(phantom, { ...oracle(phantom), marks: [...truthful, dent] }).marks.falseMarks).toHaveLength(0);
    expect(scoreCast(phantom, { ...oracle(phantom), marks: [...truthful, dent, dent] }).marks.falseMarks).toHaveLength(1);
    const turned = truthful.map((m) => (m === dent ? { ...m, kind: 'bump' as const, depth: -m.depth } : m));
    expect(scoreCast(phantom, { ...oracle(phantom), marks: turned }).marks.planted.filter((m) => !m.found)).toHaveLength(1);
  });
});

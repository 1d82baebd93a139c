import { describe, expect, it } from 'vitest';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { AlignedCast, InspectedCast } from '@cast-to-last/pipeline/records';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { alignCast } from '@cast-to-last/pipeline/stages/align';
import { findMarks } from '@cast-to-last/pipeline/stages/find-marks';
import { readScan } from '@cast-to-last/pipeline/stages/read-scan';
import { repairCast } from '@cast-to-last/pipeline/stages/repair';
import { smoothMarks } from '@cast-to-last/pipeline/stages/smooth-marks';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { Phantom } from '../../phantoms/make-phantom.ts';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import type { PhantomOptions } from '../../phantoms/phantom-options.ts';
import { planCast } from '../../phantoms/position/plan-cast.ts';
import { castOf } from '../../support/marked.ts';

const SEED = 97;
const bare: PhantomOptions = { family: 'bones', side: 'right', triangles: 60_000, denseTriangles: 8000, posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, top: 'capped', noise: 0.03, weave: 0.02, oddities: [] };

/** The phantom as `align` hands it on, in its true frame. */
const aligned = ({ scan, truth }: Phantom): AlignedCast => castOf(scan, truth.landmarks);
const find = (phantom: Phantom, rules: unknown = {}, decisions: Decisions = NO_DECISIONS): InspectedCast => findMarks(aligned(phantom), parseRules(rules), decisions);
const apart = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe(`marks on the phantom of seed ${SEED}`, () => {
  const dented = makePhantom(SEED, { ...bare, dents: 3, markDepth: [1.5, 2.5], markWidth: [12, 18], regions: ['instep', 'heel', 'ankle'] });
  const open = { marks: { depthThresholdMm: 20, landmarkDistanceMm: 0 } };
  const found = find(dented, open);

  it('are found where three dents were planted, each as a dent (how deep: the phantoms\' report holds the figures)', () => {
    expect(dented.truth.marks).toHaveLength(3);
    for (const planted of dented.truth.marks) {
      const mark = found.marks.find((m) => apart(m.centre, planted.centre) < Math.max(5, planted.width / 2));
      expect(mark?.kind).toBe('dent');
      expect(mark?.decision).toBe('smooth');
      expect(mark?.depth).toBeLessThan(-0.5);
    }
  });

  it('are told alike each time, with vertices of the inspection surface round their centre', () => {
    expect(find(dented, open)).toEqual(found);
    const p = found.surface.mesh.positions;
    for (const mark of found.marks) {
      expect(mark.vertices).toContain(mark.centreVertex);
      for (const v of mark.vertices) expect(apart(mark.centre, [...p.subarray(3 * v, 3 * v + 3)])).toBeLessThan(mark.length + 3);
    }
  });

  it('shallower than the rules report are left out; the maker\'s word reaches them', () => {
    expect(find(dented, { marks: { ...open.marks, minDepthMm: 3, depthThresholdMm: 20 } }).marks.filter((m) => m.kind === 'dent')).toEqual([]);
    const [first] = dented.truth.marks;
    const kept = find(dented, open, parseDecisions({ marks: [{ centre: [...first.centre], decision: 'keep' }] })).marks;
    expect(kept.filter((m) => m.decision === 'keep').map((m) => apart(m.centre, first.centre) < 6)).toEqual([true]);
  });

  it('roughness is that of noise and weave: some hundredths of a millimetre, more on a rougher cast', () => {
    expect(found.roughness).toBeGreaterThan(0.005);
    expect(found.roughness).toBeLessThan(0.08);
    expect(find(makePhantom(SEED, { ...bare, noise: 0.2 })).roughness).toBeGreaterThan(1.5 * found.roughness);
  });
});

describe(`a scan that ripples cover, on the phantom of seed ${SEED}`, () => {
  it('has no ridge and no seam, says so, and keeps its shape', () => {
    const { scan, truth } = makePhantom(SEED, bare);
    const normals = vertexNormals(scan);
    const positions = scan.positions.slice();
    for (let i = 0; i < positions.length; i += 3) {
      const height = 0.3 * Math.sin((2 * Math.PI * (scan.positions[i] + 0.3 * scan.positions[i + 1] + 0.5 * scan.positions[i + 2])) / 8);
      for (let k = 0; k < 3; k++) positions[i + k] += height * normals[i + k];
    }
    const cast = castOf({ positions, triangles: scan.triangles }, truth.landmarks);
    const found = findMarks(cast, parseRules({}), NO_DECISIONS);
    expect(found.rippled).toBe(true);
    expect(found.marks.filter(({ kind }) => kind === 'ridge' || kind === 'seam')).toEqual([]);
    expect(findMarks(cast, parseRules({ marks: { findRidges: false, findSeam: false } }), NO_DECISIONS).rippled).toBe(true);
    const { mesh } = smoothMarks(cast, found, parseRules({}).smoothing, NO_DECISIONS);
    const farthest = mesh.positions.reduce((most, c, i) => Math.max(most, Math.abs(c - positions[i])), 0);
    expect(farthest).toBeLessThan(5);
  });

  it('is not said of one whose sole was cut flat, for all its sharp rim', async () => {
    const { scan, truth } = makePhantom(SEED, bare);
    const cut = await withSolids((scope) => scope.ofMesh(scan).trimByPlane([0, 0, 1], 6).toMesh());
    expect(findMarks(castOf(cut, truth.landmarks), parseRules({}), NO_DECISIONS).rippled).toBe(false);
  });

  it.each([291, 292])('is not said of bandage that lies in folds over the toes (seed %i)', (seed) => {
    const { scan, truth } = makePhantom(seed, planCast(seed, 50_000).options);
    const cast = alignCast(repairCast(readScan(writeStl(scan))), truth.side, { overrideSide: true });
    expect(findMarks(cast, parseRules({}), NO_DECISIONS).rippled).toBe(false);
  });

  it('is not said of a smooth one', () => {
    expect(find(makePhantom(SEED, bare)).rippled).toBe(false);
  });
});

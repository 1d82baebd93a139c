import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { Measurement, MeasureId } from '@cast-to-last/foot/measures';
import { sizesFromFootLength } from '@cast-to-last/foot/sizes';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import type { Mark } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';

/** A tetrahedron as a stand-in for a surface: reports count and carry, they do not look at shape. */
const tetrahedron: Mesh = {
  positions: new Float64Array([0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 10]),
  triangles: new Uint32Array([0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2]),
};

function measurementsOn(on: 'cast' | 'last'): Measurement[] {
  return (Object.keys(MEASURE_LABELS) as MeasureId[]).map((id, i) => {
    const label = MEASURE_LABELS[id];
    if (id === 'ankle-girth') return { id, label, on, absent: 'The cast ends 12 mm below the place of this tape.' };
    return { id, label, on, value: 100 + i / 3, unit: id === 'ball-angle' ? 'deg' : 'mm', uncertainty: 0.2 + i / 70, onFilled: 0 };
  });
}

const mark = (i: number): Mark => ({
  id: `m${i}`, kind: 'dent', centre: [50 + i, 5, 20], depth: -1.23456789, area: 120.5, length: 14, width: 11, decision: 'smooth',
  why: 'Not deeper than 4 mm and far from landmarks.', vertices: new Uint32Array([0, 1]), centreVertex: 0, margin: 6,
});

/** A complete outcome made by hand, with `settle` moving points by 1 mm along x. */
export function handMadeOutcome(): CastOutcome {
  const origin = [0, 0, 0] as const;
  const landmarks = {
    footLength: 262.4, pternion: origin, toeTip: [262.4, 0, 10], heelCentre: [42, 0, 0], ballCentre: [180, 0, 0], medialBall: [190, 45, 15],
    lateralBall: [165, -45, 12], instep: [131, 5, 65], waist: [150, 4, 60], crook: [85, 0, 95], heelCorner: [8, 0, 3],
  } as const;
  const settle = identity();
  settle[3] = 1;
  const repaired = {
    mesh: tetrahedron, opening: null, filled: new Uint8Array(4), outerSheet: null, openCuts: [], warnings: ['One warning.', 'Another.'],
    repairs: {
      weldedVertices: 8, degenerateTriangles: 0, duplicateTriangles: 0, piecesDropped: 1, trianglesDropped: 12, trianglesFlipped: 0,
      nonManifoldEdges: 0, nonManifoldVertices: 0, holesFilled: 2, areaFilled: 12.3456789,
    },
  };
  return {
    inputSha256: 'a'.repeat(64),
    rulesSha256: 'b'.repeat(64),
    rules: DEFAULT_RULES,
    casting: {},
    scan: { mesh: tetrahedron, format: 'stl-binary', trianglesRead: 4, unit: 'mm', unitHow: 'inferred', kind: 'positive', warnings: ['One warning.'] },
    repaired,
    shelled: { ...repaired, wall: null, offsetUncertainty: 0, thickness: null },
    aligned: {
      mesh: tetrahedron, opening: null, filled: new Uint8Array(4), side: 'left', transform: identity(), landmarks, warnings: [],
    },
    check: {
      verdict: 'usable-with-care',
      findings: [{ code: 'low-top', severity: 'care', value: 71.23456, limit: 80, unit: 'mm', uncertainty: null, at: [60.12345678, 2, 71], text: 'The cast ends low.' }],
      readings: [{ id: 'low-top', label: 'top edge', value: 71.23456, uncertainty: 0.51234567, unit: 'mm', wanted: 80, care: null, recast: null, why: '', at: null }],
    },
    inspected: { marks: [mark(1), mark(2)], surface: inspectionSurface(tetrahedron, new Uint8Array(4), true), roughness: 0.05, rippled: false, warnings: [] },
    smoothed: { mesh: tetrahedron, moved: new Uint8Array(4), warnings: [] },
    measured: { mesh: tetrahedron, transform: identity(), settle, landmarks, measurements: measurementsOn('cast') },
    sizes: sizesFromFootLength(262.4),
    last: {
      mesh: tetrahedron, volume: 166.66666666, manifold: true, allowances: { toeMm: 0, topHeightMm: null, changes: [] }, warnings: [], measurements: measurementsOn('last'), featherLine: new Float64Array(0),
    },
  };
}

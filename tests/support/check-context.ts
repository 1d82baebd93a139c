import { twins } from '@cast-to-last/geometry/mesh/topology';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import type { CheckContext } from '@cast-to-last/pipeline/checks/check-context';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import type { AlignedCast } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';

const NO_REPAIRS = {
  weldedVertices: 0, degenerateTriangles: 0, duplicateTriangles: 0, piecesDropped: 0, trianglesDropped: 0, trianglesFlipped: 0, nonManifoldEdges: 0,
  nonManifoldVertices: 0, holesFilled: 0, areaFilled: 0,
};

/** What the parts of the cast check read, for a cast that stands in its foot frame, bears no marks and was not measured. */
export function checkContext(aligned: AlignedCast, changes: Partial<CheckContext> = {}): CheckContext {
  const { mesh, filled, opening, landmarks } = aligned;
  const repaired = { mesh, opening, filled, repairs: NO_REPAIRS, outerSheet: null, openCuts: [], warnings: [] };
  return {
    kind: 'positive',
    repaired,
    shelled: { ...repaired, wall: null, offsetUncertainty: 0, thickness: null },
    aligned,
    inspected: { marks: [], surface: inspectionSurface(mesh, filled, true), roughness: 0.05, rippled: false, warnings: [] },
    measured: { mesh, transform: identity(), settle: identity(), landmarks, measurements: [] },
    casting: {},
    rules: DEFAULT_RULES.check,
    surface: mesh,
    twin: twins(mesh),
    scanned: mesh.positions,
    filled,
    ...changes,
  };
}

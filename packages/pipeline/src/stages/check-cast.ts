import { cellMeans, cellsWith, coarsen } from '@cast-to-last/geometry/remeshing/coarsen';
import { rememberedNeighbours } from '@cast-to-last/geometry/mesh/remembered-topology';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import type { CheckContext, CheckPart, CheckedRecords } from '../checks/check-context.js';
import { checkBallOnHinge } from '../checks/ball-on-hinge.js';
import { checkBeyondToes } from '../checks/beyond-toes.js';
import { checkCoverage } from '../checks/coverage.js';
import { checkDiscipline } from '../checks/discipline.js';
import { checkForefootTwist } from '../checks/forefoot-twist.js';
import { checkForwardLean } from '../checks/forward-lean.js';
import { checkHeelOnPlate } from '../checks/heel-on-plate.js';
import { checkLoad } from '../checks/load.js';
import { checkPopulation } from '../checks/population.js';
import { checkRearView } from '../checks/rear-view.js';
import { checkShellHealth } from '../checks/shell-health.js';
import { checkSoleBend } from '../checks/sole-bend.js';
import { checkSoleFlatness } from '../checks/sole-flatness.js';
import { checkSurfaceMadeUp } from '../checks/surface-made-up.js';
import { checkTape } from '../checks/tape.js';
import { checkToeBox } from '../checks/toe-box.js';
import { checkToesClosed } from '../checks/toes-closed.js';
import { checkWeakWall } from '../checks/weak-wall.js';
import type { CheckRules } from '../rules/check-rules.js';
import type { CastCheck, Finding } from '../records.js';

/** Vertex spacing of the surface that position is read from, mm. */
const SPACING = 2;

/** The parts of the check, in the order in which the workshop reads them. */
const PARTS: readonly ((context: CheckContext) => CheckPart)[] = [
  checkDiscipline, checkLoad, checkCoverage, checkToesClosed, checkSurfaceMadeUp, checkSoleBend, checkHeelOnPlate, checkBallOnHinge, checkRearView,
  checkForwardLean, checkForefootTwist, checkSoleFlatness, checkToeBox, checkBeyondToes, checkShellHealth, checkWeakWall, checkTape, checkPopulation,
];

/** Whether a last can be made from this cast: every reading with its limits, what is wrong, and the verdict. */
export function checkCast(records: CheckedRecords, rules: CheckRules): CastCheck {
  const context: CheckContext = { ...records, rules, ...surfaceOf(records) };
  const parts = PARTS.map((part) => part(context));
  const findings = parts.flatMap((part) => part.findings);
  return { verdict: verdictOf(findings), findings, readings: parts.flatMap((part) => part.readings) };
}

export function verdictOf(findings: readonly Finding[]): CastCheck['verdict'] {
  if (findings.some((f) => f.severity === 'recast')) return 'recast';
  return findings.some((f) => f.severity === 'care') ? 'usable-with-care' : 'usable';
}

function surfaceOf({ measured, aligned }: CheckedRecords): Pick<CheckContext, 'surface' | 'twin' | 'scanned' | 'filled'> {
  const { mesh, cellOf } = coarsen(measured.mesh, SPACING, rememberedNeighbours(measured.mesh));
  const filled = cellsWith(aligned.filled, cellOf, mesh.positions.length / 3);
  const scanned = cellMeans(transformPositions(measured.settle, aligned.mesh.positions), cellOf, filled.length);
  return { surface: mesh, twin: twins(mesh), scanned, filled };
}

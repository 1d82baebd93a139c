import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Wrapped } from '@cast-to-last/foot/girths';
import { isTaken } from '@cast-to-last/foot/measures';
import type { Measurement } from '@cast-to-last/foot/measures';
import { takeLastMeasures, takeMeasures } from '@cast-to-last/foot/take-measures';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { readMeshFile } from '../read-mesh-file.js';
import type { SheetReport } from './sheet-report.js';
import { featherShown } from './feather-shown.js';
import { stationsOf, wholeHeight } from './sheet-shapes.js';
import type { SheetShapes, SheetStation } from './sheet-shapes.js';
import type { StoredDrawing } from './stored-drawing.js';

/** A tape that is laid anew is the report's where its length is this near, mm; elsewhere it is not drawn. */
const SAME_TAPE = 1;

/**
 * What a sheet is drawn from, of the files that `process` left.
 *
 * @param cleaned bytes of cleaned.stl
 * @param last bytes of last.stl
 * @param drawing of an earlier sheet of the same cast and last; without it the tapes are laid anew, and marks have no ground
 * @throws CastError with the codes of MeshFormatCode
 */
export function shapesOfFolder(report: SheetReport, cleaned: Uint8Array, last: Uint8Array, drawing: Pick<StoredDrawing, 'stations' | 'markPoints' | 'featherLine'> | null): SheetShapes {
  const cast = meshOf(cleaned);
  const made = meshOf(last);
  const loops = boundaryLoops(cast).sort((a, b) => b.length - a.length);
  const castWholeTo = wholeHeight(cast, loops[0] ?? null);
  return {
    cast, last: made, castWholeTo,
    stations: drawing?.stations ?? stationsAnew(report, cast, made, castWholeTo),
    featherLine: drawing?.featherLine ?? featherShown(made, report.last.allowances.changes, report.measurements),
    markPoints: drawing?.markPoints ?? new Map(),
  };
}

const meshOf = (bytes: Uint8Array): Mesh => weld(readMeshFile(bytes).mesh).mesh;
const felt = (mesh: Mesh): Wrapped => feltSurface(mesh, new Uint8Array(mesh.positions.length / 3));

/**
 * The tapes laid round cast and last once more. Where the steps that made the last moved its landmarks, the tapes of the last
 * are others than those of the report, and are left out.
 */
function stationsAnew({ scan: { side }, measurements }: SheetReport, cast: Mesh, last: Mesh, wholeTo: number): SheetStation[] {
  const ofCast = takeMeasures(felt(cast), { side, on: 'cast', roughness: 0, wholeTo });
  if (ofCast === null) return [];
  const ofLast = takeLastMeasures(felt(last), ofCast.landmarks, { side, on: 'last', roughness: 0, wholeTo: Math.min(wholeTo, bounds(last.positions)[5]) });
  const reported = (m: Measurement): boolean =>
    isTaken(m) && measurements.some((other) => other.id === m.id && other.on === m.on && 'value' in other && Math.abs(other.value - m.value) < SAME_TAPE);
  return stationsOf([...ofCast.measurements, ...(ofLast ?? [])].filter(reported));
}

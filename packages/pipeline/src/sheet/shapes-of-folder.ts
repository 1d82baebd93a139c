import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Side } from '@cast-to-last/foot/side';
import { takeMeasures } from '@cast-to-last/foot/take-measures';
import type { Mesh } from '@cast-to-last/geometry/mesh';
import { boundaryLoops } from '@cast-to-last/geometry/topology';
import { weld } from '@cast-to-last/geometry/weld';
import { readMeshFile } from '../read-mesh-file.js';
import { stationsOf, wholeHeight } from './sheet-shapes.js';
import type { SheetShapes, SheetStation } from './sheet-shapes.js';
import type { StoredDrawing } from './stored-drawing.js';

/**
 * What a sheet is drawn from, of the files that `process` left.
 *
 * @param cleaned bytes of cleaned.stl
 * @param last bytes of last.stl
 * @param drawing of an earlier sheet of the same cast and last; without it the tapes are laid anew round the cast, the last is cut in the same
 * planes, and marks have no ground
 * @throws CastError with the codes of MeshFormatCode
 */
export function shapesOfFolder(cleaned: Uint8Array, last: Uint8Array, side: Side, drawing: Pick<StoredDrawing, 'stations' | 'markPoints'> | null): SheetShapes {
  const cast = meshOf(cleaned);
  const loops = boundaryLoops(cast).sort((a, b) => b.length - a.length);
  const castWholeTo = wholeHeight(cast, loops[0] ?? null);
  return {
    cast,
    last: meshOf(last),
    castWholeTo,
    stations: drawing?.stations ?? stationsAnew(cast, side, castWholeTo),
    markPoints: drawing?.markPoints ?? new Map(),
  };
}

const meshOf = (bytes: Uint8Array): Mesh => weld(readMeshFile(bytes).mesh).mesh;

/** The tapes laid round the cast once more, and the same lines for the last: its sections are cut in their planes. */
function stationsAnew(cast: Mesh, side: Side, wholeTo: number): SheetStation[] {
  const surface = feltSurface(cast, new Uint8Array(cast.positions.length / 3));
  const taken = stationsOf(takeMeasures(surface, { side, on: 'cast', roughness: 0, wholeTo })?.measurements ?? []);
  return [...taken, ...taken.map((station): SheetStation => ({ ...station, on: 'last' }))];
}

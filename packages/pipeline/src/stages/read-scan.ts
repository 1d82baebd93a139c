import { grouped, READ_MESH_DEFAULTS } from '@cast-to-last/geometry/formats/mesh-file';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds, triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { sampleSurface } from '@cast-to-last/geometry/remeshing/sample-surface';
import { CastError } from '../errors.js';
import { EXPORT_AGAIN, readMeshFile } from '../read-mesh-file.js';
import type { LengthUnit, Scan, ScanKind } from '../records.js';
import { checkGivenUnit, inferUnit, likelyUnits, MILLIMETRES } from '../scan/infer-unit.js';
import { isScattered, mainCluster, mainPiece } from '../scan/main-piece.js';
import { longestExtent, refuseWhatIsNoFoot } from '../scan/not-a-foot.js';

export interface ReadScanOptions {
  /** The unit of the file's numbers; 'auto' infers it from the size. */
  readonly unit?: LengthUnit | 'auto';
  /** What was scanned: a poured positive, or a shell from outside or inside. */
  readonly kind?: ScanKind;
  /** Files with more triangles are refused. */
  readonly maxTriangles?: number;
}

export const READ_SCAN_DEFAULTS = { unit: 'auto', kind: 'positive', ...READ_MESH_DEFAULTS } as const satisfies ReadScanOptions;

export const READ_SCAN = {
  /** Fewer triangles cannot carry the shape of a foot. (Chosen: edges of 15 to 20 mm.) */
  leastTriangles: 500,
  /** Points that shape and size are judged on. */
  samples: 8000,
  /** Extents beyond this, or below its inverse, are no lengths in any unit; squares of them must stay finite. */
  mostExtent: 1e9,
} as const;

/**
 * Reads a scan out of the bytes of an STL, PLY or OBJ file: one mesh in millimetres in the scan's own coordinates,
 * triangles as in the file, nothing welded or repaired.
 *
 * @throws CastError with the codes of MeshFormatCode, and `no-surface`, `flat-surface`, `sphere-not-foot`,
 *   `box-not-foot`, `too-few-triangles`, `unit-ambiguous`, `size-not-foot`
 */
export function readScan(bytes: Uint8Array, options: ReadScanOptions = {}): Scan {
  const { unit: wanted, kind, maxTriangles } = { ...READ_SCAN_DEFAULTS, ...options };
  const file = readMeshFile(bytes, maxTriangles);
  const extent = judgeShape(file.mesh);
  const warnings = [...file.notes];
  let unit: LengthUnit;
  if (wanted === 'auto') {
    const inferred = inferUnit(extent);
    unit = inferred.unit;
    warnings.push(inferred.said);
  } else {
    unit = wanted;
    const unusual = checkGivenUnit(extent, unit);
    if (unusual !== null) warnings.push(unusual);
  }
  return {
    mesh: inMillimetres(file.mesh, unit),
    format: file.format,
    trianglesRead: triangleCount(file.mesh),
    unit,
    unitHow: wanted === 'auto' ? 'inferred' : 'given',
    kind,
    warnings,
  };
}

/** Refuses what cannot be a foot whatever its unit; gives the longest extent along principal axes, in the file's numbers. */
function judgeShape(mesh: Mesh): number {
  const box = bounds(mesh.positions);
  const widest = Math.max(box[3] - box[0], box[4] - box[1], box[5] - box[2]);
  // No unit makes a foot of these, which the caller will say; their squares could overflow here.
  if (widest > READ_SCAN.mostExtent || (widest > 0 && widest < 1 / READ_SCAN.mostExtent)) return widest;
  let samples = sampleSurface(mesh, READ_SCAN.samples);
  if (samples.points.length === 0) {
    throw new CastError('no-surface', 'All triangles of the scan have the area 0.', EXPORT_AGAIN);
  }
  if (isScattered(samples.points)) samples = mainCluster(samples);
  if (likelyUnits(longestExtent(samples.points, 0)).length === 0) samples = sampleSurface(mainPiece(mesh), READ_SCAN.samples);
  refuseWhatIsNoFoot(samples);
  if (triangleCount(mesh) < READ_SCAN.leastTriangles) {
    throw new CastError(
      'too-few-triangles',
      `The scan has only ${grouped(triangleCount(mesh))} triangles; at least ${grouped(READ_SCAN.leastTriangles)} are needed, and good scans have 50,000 or more.`,
      'Export the scan with a finer resolution.',
    );
  }
  return longestExtent(samples.points, 0);
}

function inMillimetres(mesh: Mesh, unit: LengthUnit): Mesh {
  const factor = MILLIMETRES[unit];
  return factor === 1 ? mesh : { positions: mesh.positions.map((c) => c * factor), triangles: mesh.triangles };
}

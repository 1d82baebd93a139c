import { z } from 'zod';
import { findLandmarks } from '@cast-to-last/foot/find-landmarks';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import type { Measurement } from '@cast-to-last/foot/measures';
import { vertexCount } from '@cast-to-last/geometry/mesh/mesh';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { connectedPieces } from '@cast-to-last/geometry/mesh/components';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { CastError } from '../errors.js';
import { castingSchema } from '../order.js';
import { readMeshFile } from '../read-mesh-file.js';
import type { AlignedCast, MeasuredCast } from '../records.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import { asCurrentReport } from '../report/report-version.js';
import type { Report } from '../report/report.js';
import { sha256 } from '../digest.js';
import { wholeTo } from '../stages/align.js';

/** Corners of cleaned.stl nearer than this are one, mm: equal 32-bit coordinates. */
const SAME = 1e-9;

const named = { id: z.string(), label: z.string(), on: z.enum(['cast', 'last']) };
const stored = z.looseObject({
  schema: z.literal(1, { error: 'must be 1' }),
  scan: z.looseObject({ file: z.string(), sha256: z.string(), side: z.enum(['left', 'right']) }),
  transform: z.array(z.number()).length(16),
  measurements: z.array(
    z.union([z.looseObject({ ...named, value: z.number(), unit: z.enum(['mm', 'deg']), uncertainty: z.number(), onFilled: z.number().default(0) }), z.looseObject({ ...named, absent: z.string() })]),
  ),
  casting: castingSchema.default({}),
  rules: z.looseObject({ name: z.string(), version: z.string(), sha256: z.string() }),
  stages: z.array(z.looseObject({ name: z.string() })),
  warnings: z.array(z.string()),
  files: z.record(z.string(), z.string()).optional(),
});

/** A folder that `process` wrote, as a last is made again from it. */
export interface StoredCast {
  readonly report: Report;
  readonly measured: MeasuredCast;
  readonly aligned: Pick<AlignedCast, 'opening' | 'filled' | 'side'>;
  /** SHA-256 of cleaned.stl. */
  readonly cleanedSha256: string;
}

/**
 * The cleaned cast of a folder, as it stood when its last was built: its frame is settled, its landmarks are found again,
 * its measures are those of the report. Which ground repair made up is not kept in the file.
 *
 * @param json value of report.json
 * @param cleaned bytes of cleaned.stl
 * @throws CastError `bad-report` where the report is none of `process`, `cast-changed` where cleaned.stl is not the one that it was
 * written with or no cast, and the codes of MeshFormatCode
 */
export function readStoredCast(json: unknown, what: string, cleaned: Uint8Array): StoredCast {
  const current = asCurrentReport(json, what);
  const parsed = stored.safeParse(current);
  if (!parsed.success) throw refuseBadKeys('bad-report', what, '`cast-to-last process` writes one', parsed.error.issues);
  const { scan, files, measurements, transform } = parsed.data;
  const cleanedSha256 = sha256(cleaned);
  const known = files?.['cleaned.stl'];
  if (known !== undefined && known !== cleanedSha256) throw changed('cleaned.stl is not the file that this report was written with.');
  const { mesh } = weld(readMeshFile(cleaned).mesh, SAME);
  const twin = twins(mesh);
  const loops = boundaryLoops(mesh, twin);
  if (twin.some((h) => h < -1) || loops.length > 1 || connectedPieces(twin).count !== 1) throw changed('cleaned.stl does not hold one whole surface with one opening at most.');
  const opening = loops[0] ?? null;
  const filled = new Uint8Array(vertexCount(mesh));
  const landmarks = findLandmarks(feltSurface(mesh, filled), scan.side, wholeTo(mesh, opening));
  if (landmarks === null) throw changed('cleaned.stl holds no heel or ball.');
  const ofCast = measurements.filter((m) => m.on === 'cast') as Measurement[];
  return {
    report: current as Report,
    measured: { mesh, transform: Float64Array.from(transform), settle: identity(), landmarks, measurements: ofCast },
    aligned: { opening, filled, side: scan.side },
    cleanedSha256,
  };
}

const changed = (problem: string): CastError =>
  new CastError('cast-changed', problem, 'Name a folder as `cast-to-last process` wrote it, or process the scan again.');

import { z } from 'zod';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { readMeshFile } from '../read-mesh-file.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import { asCurrentReport } from '../report/report-version.js';
import type { ComparedCast } from './compared-cast.js';

const point = z.tuple([z.number(), z.number(), z.number()]).nullable();
const measurement = z.object({
  id: z.string(), label: z.string(), on: z.enum(['cast', 'last']), value: z.number().optional(), unit: z.enum(['mm', 'deg']).optional(), uncertainty: z.number().optional(),
  onFilled: z.number().optional(), absent: z.string().optional(),
});
const finding = z.object({
  code: z.string(), severity: z.enum(['note', 'care', 'recast']), value: z.number().nullable(), limit: z.number().nullable(), unit: z.string(), text: z.string(),
  uncertainty: z.number().nullable().default(null), at: point.default(null),
});
const reading = z.object({
  id: z.string(), label: z.string(), value: z.number().nullable(), uncertainty: z.number().nullable(), unit: z.string(), wanted: z.number().nullable(),
  care: z.number().nullable(), recast: z.number().nullable(), why: z.string(), at: point,
});

/** What a comparison reads of a report.json; reports of earlier versions have no readings and say nothing of the load. */
const result = z.object({
  schema: z.literal(1, { error: 'must be 1' }),
  scan: z.object({ file: z.string(), sha256: z.string(), kind: z.enum(['positive', 'outside', 'inside']), side: z.enum(['left', 'right']) }),
  measurements: z.array(measurement),
  casting: z.object({ load: z.enum(['none', 'seated', 'half', 'full']).optional() }).default({}),
  castCheck: z.object({ verdict: z.enum(['usable', 'usable-with-care', 'recast']), findings: z.array(finding), readings: z.array(reading).default([]) }),
});

export type ComparedResult = z.output<typeof result>;

/** The report.json of a result folder. Throws CastError `bad-report` naming the path of every bad key. */
export function parseResult(json: unknown, what: string): ComparedResult {
  const parsed = result.safeParse(asCurrentReport(json, what));
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-report', what, '`cast-to-last process` writes one', parsed.error.issues);
}

/** The surface of a result folder that is compared. */
export type ComparedSurface = 'cast' | 'last';

/**
 * A result folder's cleaned cast or last, ready to be compared.
 *
 * @param name how sentences call it
 * @param surface bytes of cleaned.stl, or of last.stl
 * @throws CastError with the codes of MeshFormatCode
 */
export function comparedCast(name: string, { scan, measurements, casting, castCheck }: ComparedResult, surface: Uint8Array, of: ComparedSurface = 'cast'): ComparedCast {
  return {
    name,
    side: scan.side,
    load: casting.load,
    measurements: measurements.flatMap(({ id, label, on, value, unit, uncertainty = 0, onFilled = 0 }) => (on !== of || value === undefined || unit === undefined ? [] : [{ id, label, on, value, unit, uncertainty, onFilled }])),
    check: castCheck,
    mesh: weld(readMeshFile(surface).mesh).mesh,
  };
}

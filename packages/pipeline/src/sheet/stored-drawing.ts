import { z } from 'zod';
import { isCalendarDate } from '../order.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import type { SheetForm, SheetHeader } from './sheet-content.js';
import type { SheetStation } from './sheet-shapes.js';

/** What an earlier sheet of the same cast and last keeps beside its report and meshes. */
export interface StoredDrawing {
  readonly fingerprint: string;
  readonly form: SheetForm;
  readonly header: SheetHeader;
  readonly stations: readonly SheetStation[];
  /** Null in files of earlier versions, which do not have it. */
  readonly featherLine: Float64Array | null;
  readonly markPoints: ReadonlyMap<string, Float64Array>;
}

const line = z.array(z.number()).refine((a) => a.length % 3 === 0, 'must hold x, y, z of its points');
const date = z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD');

const stored = z.object({
  schema: z.literal(1, { error: 'must be 1' }),
  fingerprint: z.string(),
  paper: z.enum(['a4', 'letter']),
  language: z.enum(['en', 'de']),
  inches: z.boolean(),
  drawn: z.object({
    header: z.object({
      orderNumber: z.string(),
      date: date.nullable(),
      customerNumber: z.string().optional(),
      remarks: z.string().optional(),
      approval: z.object({ by: z.string(), on: date }).optional(),
      recordUrl: z.string().optional(),
      other: z
        .object({
          side: z.enum(['left', 'right']),
          measurements: z.array(
            z.object({ id: z.string(), label: z.string(), value: z.number(), unit: z.enum(['mm', 'deg']), uncertainty: z.number(), on: z.enum(['cast', 'last']), onFilled: z.number() }),
          ),
        })
        .optional(),
    }),
    stations: z.array(z.object({ id: z.string(), on: z.enum(['cast', 'last']), line })),
    featherLine: line.nullable().default(null),
    markPoints: z.record(z.string(), line),
  }),
});

/** The keepings of a sheet.json in a parsed JSON value. Throws CastError `bad-report` naming the path of every bad key. */
export function parseStoredDrawing(json: unknown, what: string): StoredDrawing {
  const parsed = stored.safeParse(json);
  if (!parsed.success) throw refuseBadKeys('bad-report', what, '`cast-to-last process` writes one; the sheet can be drawn without it, too', parsed.error.issues);
  const { fingerprint, paper, language, inches, drawn } = parsed.data;
  return {
    fingerprint,
    form: { paper, language, inches },
    header: drawn.header,
    stations: drawn.stations.map((s) => ({ ...s, line: Float64Array.from(s.line) })),
    featherLine: drawn.featherLine === null ? null : Float64Array.from(drawn.featherLine),
    markPoints: new Map(Object.entries(drawn.markPoints).map(([id, points]) => [id, Float64Array.from(points)])),
  };
}

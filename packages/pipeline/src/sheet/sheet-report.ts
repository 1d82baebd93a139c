import { z } from 'zod';
import { castingSchema } from '../order.js';
import { refuseBadKeys } from '../refuse-bad-keys.js';
import { asCurrentReport } from '../report/report-version.js';
import type { Report } from '../report/report.js';

/** What a sheet reads of a report.json. */
export type SheetReport = Pick<Report, 'measurements' | 'sizes' | 'casting' | 'castCheck' | 'marks' | 'rules' | 'program' | 'warnings'> & {
  readonly scan: Pick<Report['scan'], 'file' | 'sha256' | 'unit' | 'unitHow' | 'kind' | 'side' | 'wallMm' | 'wallUncertainty'>;
  readonly last: Pick<Report['last'], 'triangles' | 'volume' | 'allowances'>;
};

const point = z.tuple([z.number(), z.number(), z.number()]);
const size = z.number().nullable();
const named = { id: z.string(), label: z.string() };

const report = z.object({
  schema: z.literal(1, { error: 'must be 1' }),
  scan: z.object({
    file: z.string(), sha256: z.string(), unit: z.enum(['mm', 'cm', 'm', 'in']), unitHow: z.enum(['given', 'inferred']), kind: z.enum(['positive', 'outside', 'inside']),
    side: z.enum(['left', 'right']), wallMm: z.number().nullable().default(null), wallUncertainty: z.number().nullable().default(null),
  }),
  measurements: z.array(
    z.union([
      z.object({ ...named, value: z.number(), unit: z.enum(['mm', 'deg']), uncertainty: z.number(), on: z.enum(['cast', 'last']), onFilled: z.number().default(0) }),
      z.object({ ...named, on: z.enum(['cast', 'last']), absent: z.string() }),
    ]),
  ),
  sizes: z.object({
    mondopoint: z.number(), parisPoint: z.number(), uk: size, usMen: size, usWomen: size, convention: z.string(),
    exact: z.object({ footLength: z.number(), parisPoint: z.number(), uk: z.number() }),
  }),
  casting: castingSchema.default({}),
  castCheck: z.object({
    verdict: z.enum(['usable', 'usable-with-care', 'recast']),
    findings: z.array(
      z.object({
        code: z.string(), severity: z.enum(['note', 'care', 'recast']), value: z.number().nullable(), limit: z.number().nullable(), unit: z.string(), text: z.string(),
        uncertainty: z.number().nullable().default(null), at: point.nullable().default(null),
      }),
    ),
    readings: z
      .array(
        z.object({
          ...named, value: z.number().nullable(), uncertainty: z.number().nullable(), unit: z.string(), wanted: z.number().nullable(), care: z.number().nullable(),
          recast: z.number().nullable(), why: z.string(), at: point.nullable(),
        }),
      )
      .default([]),
  }),
  marks: z.array(
    z.object({
      id: z.string(), kind: z.enum(['dent', 'bump', 'ridge', 'seam']), centre: point, depth: z.number(), area: z.number(), length: z.number(), width: z.number(),
      decision: z.enum(['smooth', 'keep', 'ask']), why: z.string(),
    }),
  ),
  last: z.object({
    triangles: z.number(),
    volume: z.number(),
    allowances: z.object({
      toeMm: z.number(), topHeightMm: z.number().nullable(),
      changes: z.array(z.object({ ...named, unit: z.enum(['mm', 'deg', '%']), before: z.number(), asked: z.number().nullable(), got: z.number() })).default([]),
    }),
  }),
  rules: z.object({ name: z.string(), version: z.string(), sha256: z.string() }),
  program: z.object({ version: z.string() }),
  warnings: z.array(z.string()),
});

/** The report of a finished last in a parsed JSON value. Throws CastError `bad-report` naming the path of every bad key. */
export function parseSheetReport(json: unknown, what: string): SheetReport {
  const parsed = report.safeParse(asCurrentReport(json, what));
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-report', what, '`cast-to-last process` writes one', parsed.error.issues);
}

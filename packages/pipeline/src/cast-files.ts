import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { writeThreeMf } from '@cast-to-last/geometry/formats/threemf';
import { measuresCsv } from './measures-csv.js';
import type { CastOutcome } from './outcome.js';
import type { CheckReport, Report } from './report.js';
import { reviewGlb, signedChange, standingScan } from './review-glb.js';
import type { RuleSet } from './rules.js';
import type { DrawnSheet } from './stages/draw-sheet.js';
import { sha256 } from './stage-key.js';
import { viewFiles } from './view-files.js';

export interface CastFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Every file that a cast made into a last can leave behind. */
export const CAST_FILE_NAMES = ['report.json', 'cleaned.stl', 'last.stl', 'last.3mf', 'review.glb', 'view-light.glb', 'view-scan.glb', 'view-cleaned.glb', 'view-last.glb', 'sheet.pdf', 'sheet.json', 'measures.csv', 'rules.json', 'recast-note.pdf'] as const;
/** Every file that a check alone can leave behind. */
export const CHECK_FILE_NAMES = ['check.json', 'recast-note.pdf'] as const;

const utf8 = new TextEncoder();

/** last.3mf. It is compressed beside the thread: a host that asks for it early does other work meanwhile. */
export const lastThreeMf = ({ last }: Pick<CastOutcome, 'last'>): Promise<Uint8Array> => writeThreeMf(last.mesh, { title: 'last' });

/** What was made beside the report: null where there is none. */
export interface MadeFiles {
  readonly sheet: DrawnSheet | null;
  readonly note: Uint8Array | null;
  /** What `lastThreeMf` gives. */
  readonly threeMf?: Promise<Uint8Array>;
}

/** The files of one outcome, sheet and note among them where there are; the report comes first and names the digests of the others. */
export async function castFiles(outcome: CastOutcome, report: Report, { sheet, note, threeMf = lastThreeMf(outcome) }: MadeFiles): Promise<CastFile[]> {
  const cleaned = writeStl(outcome.measured.mesh, { title: 'cleaned cast, foot frame' });
  const last = writeStl(outcome.last.mesh, { title: 'last, foot frame' });
  const change = signedChange(outcome);
  const scan = standingScan(outcome);
  const review = reviewGlb(scan, outcome.measured.mesh, change);
  const views = await viewFiles({ scan, cleaned: outcome.measured.mesh, last: outcome.last.mesh, change });
  return withReport(report, [
    { name: 'cleaned.stl', bytes: cleaned },
    { name: 'last.stl', bytes: last },
    { name: 'last.3mf', bytes: await threeMf },
    { name: 'review.glb', bytes: review },
    ...views,
    ...(sheet === null ? [] : [{ name: 'sheet.pdf', bytes: sheet.pdf }, { name: 'sheet.json', bytes: sheet.json }]),
    { name: 'measures.csv', bytes: utf8.encode(measuresCsv(report)) },
    rulesFile(outcome.rules),
    ...noteFile(note),
  ]);
}

/** The rules, whole, by which a last was made: what makes it again reads them. */
export const rulesFile = (rules: RuleSet): CastFile => ({ name: 'rules.json', bytes: jsonBytes(rules) });

/** The files with the report before them, which names their digests. */
export function withReport(report: Report, files: readonly CastFile[]): CastFile[] {
  const digests = Object.fromEntries(files.map(({ name, bytes }) => [name, sha256(bytes)]));
  return [{ name: 'report.json', bytes: jsonBytes({ ...report, files: digests }) }, ...files];
}

/** The files of a check alone. */
export const checkFiles = (report: CheckReport, note: Uint8Array | null): CastFile[] => [{ name: 'check.json', bytes: jsonBytes(report) }, ...noteFile(note)];

const jsonBytes = (report: CheckReport | Report | RuleSet): Uint8Array => utf8.encode(`${JSON.stringify(report, null, 2)}\n`);
const noteFile = (note: Uint8Array | null): CastFile[] => (note === null ? [] : [{ name: 'recast-note.pdf', bytes: note }]);

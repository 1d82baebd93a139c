import { jsonBytes } from './json-file.js';
import { measuresCsv } from '../report/measures-csv.js';
import type { CastOutcome } from '../outcome.js';
import type { CheckReport, Report } from '../report/report.js';
import type { RuleSet } from '../rules/rules.js';
import type { DrawnSheet } from '../stages/draw-sheet.js';
import { sha256 } from '../digest.js';
import type { SurfaceFile } from './surface-files.js';

export interface CastFile extends SurfaceFile {
  /** Its digest, where it is known already. */
  readonly sha256?: string;
}

/** Every file that a cast made into a last can leave behind. */
export const CAST_FILE_NAMES = ['report.json', 'cleaned.stl', 'last.stl', 'last.3mf', 'review.glb', 'view-light.glb', 'view-scan.glb', 'view-cleaned.glb', 'view-last.glb', 'sheet.pdf', 'sheet.json', 'measures.csv', 'rules.json', 'recast-note.pdf'] as const;
/** Every file that a check alone can leave behind. */
export const CHECK_FILE_NAMES = ['check.json', 'recast-note.pdf'] as const;

const utf8 = new TextEncoder();

/** What was made beside the report: null where there is none. */
export interface MadeFiles {
  readonly sheet: DrawnSheet | null;
  readonly note: Uint8Array | null;
  /** What `surfaceFiles` gives. */
  readonly surfaces: readonly CastFile[];
}

/** The files of one outcome, sheet and note among them where there are; the report comes first and names the digests of the others. */
export function castFiles(outcome: CastOutcome, report: Report, { sheet, note, surfaces }: MadeFiles): CastFile[] {
  const files: CastFile[] = [
    ...surfaces,
    ...(sheet === null ? [] : [{ name: 'sheet.pdf', bytes: sheet.pdf }, { name: 'sheet.json', bytes: sheet.json }]),
    { name: 'measures.csv', bytes: utf8.encode(measuresCsv(report)) },
    rulesFile(outcome.rules),
    ...noteFile(note),
  ];
  const place = new Map<string, number>(CAST_FILE_NAMES.map((name, i) => [name, i]));
  return withReport(report, files.sort((a, b) => (place.get(a.name) ?? 0) - (place.get(b.name) ?? 0)));
}

/** The rules, whole, by which a last was made: what makes it again reads them. */
export const rulesFile = (rules: RuleSet): CastFile => ({ name: 'rules.json', bytes: jsonBytes(rules) });

/** The files with the report before them, which names their digests. */
export function withReport(report: Report, files: readonly CastFile[]): CastFile[] {
  const digested = files.map((file) => ({ ...file, sha256: file.sha256 ?? sha256(file.bytes) }));
  const digests = Object.fromEntries(digested.map((file) => [file.name, file.sha256]));
  return [{ name: 'report.json', bytes: jsonBytes({ ...report, files: digests }) }, ...digested];
}

/** The files of a check alone. */
export const checkFiles = (report: CheckReport, note: Uint8Array | null): CastFile[] => [{ name: 'check.json', bytes: jsonBytes(report) }, ...noteFile(note)];

const noteFile = (note: Uint8Array | null): CastFile[] => (note === null ? [] : [{ name: 'recast-note.pdf', bytes: note }]);

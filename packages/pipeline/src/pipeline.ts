import { sizesFromFootLength } from '@cast-to-last/foot/sizes';
import { weighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import type { Decisions } from './decisions.js';
import type { CastInput, CastOutcome, CheckOutcome, StageName, Step } from './outcome.js';
import type { NoteHeader } from './recast-note/recast-note.js';
import type { RepairedCast, Scan } from './records.js';
import type { RuleSet } from './rules/rules.js';
import type { SheetHeader } from './sheet/sheet-content.js';
import { jsonSha256, sha256 } from './digest.js';
import { stageKey } from './stage-key.js';
import { alignCast } from './stages/align.js';
import { buildLast, particularsFor } from './stages/build-last.js';
import { checkCast } from './stages/check-cast.js';
import type { SheetRun } from './stages/draw-sheet.js';
import { findMarks } from './stages/find-marks.js';
import { measureCast } from './stages/measure.js';
import { readScan } from './stages/read-scan.js';
import { repairCast } from './stages/repair.js';
import { shellCast } from './stages/shell.js';
import { smoothMarks } from './stages/smooth-marks.js';

/** Raised when a stage's result for the same input and rules changes, so that stored results of the old one are not used. */
export const STAGE_VERSIONS: Readonly<Record<StageName, number>> = {
  'read-scan': 2,
  repair: 5,
  shell: 1,
  align: 6,
  'find-marks': 18,
  'smooth-marks': 8,
  measure: 8,
  'check-cast': 27,
  'build-last': 14,
  'draw-sheet': 4,
  'draw-note': 1,
};

const keyOf = (name: StageName, before: string[], reads: unknown): string => stageKey(name, STAGE_VERSIONS[name], before, reads);

/**
 * The whole way from a scan file to a last. `step` runs each stage under the key of its result; `weigh` is that of `buildLast`.
 * Throws CastError where the scan cannot become a last.
 */
export async function makeLast(input: CastInput, rules: RuleSet, decisions: Decisions, step: Step, weigh = weighSolid): Promise<CastOutcome> {
  const { outcome, measureKey } = await upToVerdict(input, rules, decisions, step);

  const particulars = particularsFor(rules.last, input);
  const lastKey = keyOf('build-last', [measureKey], { rules: rules.last, particulars });
  const last = await step('build-last', lastKey, () => buildLast(outcome.measured, outcome.aligned, rules.last, particulars, weigh));

  return { ...outcome, last };
}

/**
 * The way from a scan file to the verdict on the cast: the same stages as those of `makeLast`, under the same keys, without
 * a last. Throws CastError where the scan is no cast that can be measured.
 */
export async function checkScan(input: CastInput, rules: RuleSet, decisions: Decisions, step: Step): Promise<CheckOutcome> {
  return (await upToVerdict(input, rules, decisions, step)).outcome;
}

/** The stages that both share, and the key that a last is built on. */
async function upToVerdict(
  input: CastInput, rules: RuleSet, decisions: Decisions, step: Step,
): Promise<{ readonly outcome: CheckOutcome; readonly measureKey: string }> {
  const { kind, side, wallMm, sideOverride: overrideSide = false, casting = {} } = input;
  const { inputSha256, scan, repaired, repairKey } = await readAndRepair(input, step);

  const known = kind === 'positive' ? null : { wallMm, plaster: casting.plaster, plyMm: rules.check.plyMm };
  const shellKey = keyOf('shell', [repairKey], known);
  const shelled = await step('shell', shellKey, () => shellCast(repaired, kind, known));

  const alignKey = keyOf('align', [shellKey], { side, overrideSide });
  const aligned = await step('align', alignKey, () => alignCast(shelled, side, { overrideSide, kind }));

  const markRules = { marks: rules.marks, smoothing: { seam: rules.smoothing.seam, ridges: rules.smoothing.ridges } };
  const marksKey = keyOf('find-marks', [alignKey], { rules: markRules, decisions });
  const inspected = await step('find-marks', marksKey, () => findMarks(aligned, markRules, decisions));

  const smoothKey = keyOf('smooth-marks', [marksKey], { rules: rules.smoothing, decisions });
  const smoothed = await step('smooth-marks', smoothKey, () => smoothMarks(aligned, inspected, rules.smoothing, decisions));

  const measureKey = keyOf('measure', [smoothKey], null);
  const measured = await step('measure', measureKey, () => measureCast(aligned, smoothed, inspected, shelled.offsetUncertainty));

  const checkKey = keyOf('check-cast', [measureKey], { rules: rules.check, casting });
  const check = await step('check-cast', checkKey, () => checkCast({ kind, repaired, shelled, aligned, inspected, measured, casting }, rules.check));

  const sizes = sizesFromFootLength(measured.landmarks.footLength);
  const rulesSha256 = jsonSha256(rules);
  return { outcome: { inputSha256, rulesSha256, rules, casting, scan, repaired, shelled, aligned, inspected, smoothed, measured, check, sizes }, measureKey };
}

/** A scan as far as it is the same for every use of it. */
export interface RepairedScan {
  readonly inputSha256: string;
  readonly scan: Scan;
  readonly repaired: RepairedCast;
  readonly repairKey: string;
}

/** The first two stages. Throws CastError where the file cannot be read or is no foot. */
export async function readAndRepair({ bytes, unit, kind }: Pick<CastInput, 'bytes' | 'unit' | 'kind'>, step: Step): Promise<RepairedScan> {
  const inputSha256 = sha256(bytes);
  const scanKey = keyOf('read-scan', [inputSha256], { unit, kind });
  const scan = await step('read-scan', scanKey, () => readScan(bytes, { unit, kind }));

  const repairKey = keyOf('repair', [scanKey], null);
  const repaired = await step('repair', repairKey, () => repairCast(scan));
  return { inputSha256, scan, repaired, repairKey };
}

/** The key of the sheet: every result that it tells of, and all that the host puts on it. */
export const drawSheetKey = (stageKeys: readonly string[], rules: RuleSet, header: SheetHeader, run: SheetRun): string =>
  stageKey('draw-sheet', STAGE_VERSIONS['draw-sheet'], stageKeys, { sheet: rules.sheet, name: rules.name, version: rules.version, header, run });

/** The key of the recast note, likewise. */
export const drawNoteKey = (stageKeys: readonly string[], rules: RuleSet, { orderNumber, date }: NoteHeader): string =>
  stageKey('draw-note', STAGE_VERSIONS['draw-note'], stageKeys, { paper: rules.sheet.paper, header: { orderNumber, date } });

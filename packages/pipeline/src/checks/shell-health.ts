import type { MeasureId } from '@cast-to-last/foot/measures';
import { isTaken } from '@cast-to-last/foot/measures';
import { legSideTo } from '@cast-to-last/foot/position/cap-level';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { rememberedTwins } from '@cast-to-last/geometry/mesh/remembered-topology';
import { transformMesh, transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { GAP_OR_OVERLAP, GAP_OR_SEAM, HIDDEN, MAY_GAPE, closingError } from '../cut/closing-error.js';
import { madeUpNear } from '../cut/made-up.js';
import { OPEN_CUT_GAP, besideOpenCut, openCutGap } from '../cut/open-cut-gap.js';
import type { ReadStation } from '../cut/read-cut.js';
import { readCut } from '../cut/read-cut.js';
import type { TopMap } from '../cut/top-map.js';
import { topMap } from '../cut/top-map.js';
import { WIDEST_FOR_LINES } from '../marks/inspection-surface.js';
import type { Finding, Reading } from '../records.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { readingOf, unread } from './reading.js';
import { weighSurely } from './weigh-surely.js';

export const SHELL_HEALTH = {
  /** Share of the course, from the top down, over which the highest step does not count: single stations err. */
  outliers: 0.1,
  /** How far below a closed top the cut is read, mm: sections that reach into it show its edge. */
  belowCap: 3,
  /** Half-width of a 95 % interval of a step's height: mm, and a share of it (generated casts of the tuning range). */
  stepError: 0.6,
  stepShare: 0.15,
} as const;

const TAPES = [
  { id: 'closing-ball', label: 'closing error at the ball', place: 'at the ball', tape: 'ball-girth' },
  { id: 'closing-waist', label: 'closing error at the waist', place: 'at the waist', tape: 'waist-girth' },
  { id: 'closing-instep', label: 'closing error at the instep', place: 'at the instep', tape: 'instep-girth' },
] as const satisfies readonly { id: string; label: string; place: string; tape: MeasureId }[];

const STEP = { id: 'cut-step', label: 'step along the cut', unit: 'mm', wanted: 0 } as const;

/** How the shell was closed along its cut: how far off the girths are, and how far one flap stands over the other. */
export function checkShellHealth(context: CheckContext): CheckPart {
  const { aligned, inspected, repaired, kind, measured, rules } = context;
  const { care, recast } = rules.closing;
  if (inspected.surface.spacing > WIDEST_FOR_LINES) return tooCoarse(inspected.surface.spacing, rules);
  if (inspected.rippled) return rippled(rules);
  const openCuts = repaired.openCuts.map((edges) => transformPositions(measured.transform, edges));
  // The outside shows the cut as it was scanned; what was moved inward from there shows it rounded.
  const cut = kind === 'outside' && repaired.outerSheet === null
    ? cutOn(transformMesh(measured.transform, repaired.mesh), repaired.filled, openCuts, context)
    : cutOn(transformMesh(measured.settle, aligned.mesh), aligned.filled, openCuts, context);
  const outer = repaired.outerSheet === null ? null : cutOn(transformMesh(measured.transform, repaired.outerSheet), NONE, openCuts, context).stations;
  const readings: Reading[] = [];
  const findings: Finding[] = [];
  for (const { id, label, place, tape } of TAPES) {
    const girth = measured.measurements.find((m) => m.id === tape);
    const named = { id, label, unit: 'mm', wanted: 0, care, recast };
    if (girth === undefined || !isTaken(girth) || girth.tape === undefined) {
      readings.push(unread(named, 'The tape could not be laid there.'));
      continue;
    }
    const open = openCutGap(girth.tape, openCuts);
    const closing = open === null ? closingError(girth.tape, cut.stations, outer, cut.surface) : { value: open.gap, uncertainty: OPEN_CUT_GAP.error, at: open.at };
    // A cut that stands open can still be closed, and the shell scanned again: no new cast is needed for it.
    const reading = readingOf({ ...named, ...closing, recast: open === null ? recast : null });
    readings.push(reading);
    const found = weighSurely(reading, (value) => (open === null ? sayClosing(value, place) : sayOpen(value, place)));
    if (found !== null) findings.push(found);
  }
  // Most telling first: what may be a gap asks for care.
  const untold = [MAY_GAPE, GAP_OR_OVERLAP, GAP_OR_SEAM, HIDDEN].find((reason) => readings.some(({ why }) => why === reason));
  if (untold !== undefined) findings.push({ ...SAID, code: 'cut-hidden', severity: untold === HIDDEN ? 'note' : 'care', text: `${untold} Look at the cut on the cast itself.` });
  const step = stepReading(cut.stations, rules.cutStep);
  readings.push(step);
  const found = weighSurely(step, (value) => `Along the cut one edge stands ${value.toFixed(1)} mm over the other: the shell was not closed as it came off the foot.`);
  if (found !== null) findings.push(found);
  return { readings, findings };
}

/** Between the facets of a coarse scan no cut shows, and their own edges look like one. */
function tooCoarse(spacing: number, rules: CheckContext['rules']): CheckPart {
  const text = `The scan's points lie ${spacing.toFixed(1)} mm apart, too far for a cut, a seam or the edge of a bandage to show between them. Scan with points no more than ${WIDEST_FOR_LINES} mm apart, best 1 mm.`;
  return unreadBecause({ ...SAID, code: 'scan-coarse', severity: 'note', text }, rules);
}

/** Among ripples as high as a cut's edges, none can be told. */
function rippled(rules: CheckContext['rules']): CheckPart {
  const text = 'Fine ripples cover the scan, so that a cut, a seam or the edge of a bandage cannot be told among them, and none was smoothed. Check the scanner, and scan the cast again.';
  return unreadBecause({ ...SAID, code: 'scan-rippled', severity: 'care', text }, rules);
}

/** A finding without a figure or a place. */
const SAID = { value: null, limit: null, unit: '', uncertainty: null, at: null } as const;

function unreadBecause(finding: Finding, { closing, cutStep }: CheckContext['rules']): CheckPart {
  const closings = TAPES.map(({ id, label }) => unread({ id, label, unit: 'mm', wanted: 0, ...closing }, finding.text));
  return { readings: [...closings, unread({ ...STEP, ...cutStep }, finding.text)], findings: [finding] };
}

/** Repair fills no outer sheet. */
const NONE = new Uint8Array(0);

/** The cut that shows on the top of a surface, and that top; null where there is none. */
interface CutOn {
  readonly surface: TopMap | null;
  readonly stations: readonly ReadStation[] | null;
}

function cutOn(mesh: Mesh, filled: Uint8Array, openCuts: readonly Float64Array[], { aligned, measured }: CheckContext): CutOn {
  const { landmarks } = measured;
  if (landmarks.instep === null) return { surface: null, stations: null };
  const end = legSideTo(mesh, landmarks.footLength, aligned.opening === null) - SHELL_HEALTH.belowCap;
  const surface = topMap(mesh, rememberedTwins(mesh), landmarks.footLength, landmarks.instep, end);
  const made = madeUpNear(mesh, filled);
  return { surface, stations: surface === null ? null : readCut(surface, (at, gap) => made(at, gap) || besideOpenCut(at, openCuts)) };
}

const sayClosing = (value: number, place: string): string =>
  value > 0
    ? `The cut edges stood about ${value.toFixed(0)} mm apart ${place}, and plaster bridged the gap: the cast is that much too wide there.`
    : `The cut edges overlap by about ${Math.abs(value).toFixed(0)} mm ${place}: the cast is that much too narrow there.`;

const sayOpen = (value: number, place: string): string =>
  `The cut stands open by about ${value.toFixed(0)} mm ${place}: the cast is that much too wide there. Close the shell and scan it again before plaster is poured in.`;

/** The height that a tenth of the course exceeds. */
function stepReading(cut: readonly ReadStation[] | null, { care, recast }: { care: number; recast: number }): Reading {
  const named = { ...STEP, care, recast };
  const steps = (cut ?? []).filter(({ step, madeUp }) => step !== null && !madeUp).sort((a, b) => Math.abs(b.step as number) - Math.abs(a.step as number));
  if (steps.length === 0) {
    const missing = cut?.some(({ madeUp }) => madeUp) ?? false;
    if (!missing && cut?.some(({ hidden }) => hidden)) return unread(named, HIDDEN);
    return missing ? unread(named, 'The surface was missing in the scan where a cut would run.') : readingOf({ ...named, value: 0, uncertainty: SHELL_HEALTH.stepError });
  }
  const { step, at } = steps[Math.floor(SHELL_HEALTH.outliers * steps.length)];
  const value = Math.abs(step as number);
  return readingOf({ ...named, value, uncertainty: Math.hypot(SHELL_HEALTH.stepError, SHELL_HEALTH.stepShare * value), at });
}

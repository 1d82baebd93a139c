import { identity } from '@cast-to-last/geometry/numerics/transform';
import { isTaken, type MeasureId } from '@cast-to-last/foot/measures';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import type { Shell } from './make-shell.js';
import { intoTruth, scoreOffset, type OffsetScore } from './score-offset.js';
import type { ShellPlan } from './shell-plans.js';
import type { GirthId } from './shell-truth.js';

export const CLOSING: { readonly [id in GirthId]: string } = { 'ball-girth': 'closing-ball', 'waist-girth': 'closing-waist', 'instep-girth': 'closing-instep' };
/** Findings about the cut. */
const CUT_CODES: readonly string[] = [...Object.values(CLOSING), 'cut-step'];
/** Findings about the wall of a shell that was scanned on both sides. */
const WEAK = /thin|broken|wall/;

export interface ShellReading {
  readonly id: string;
  /** Null where the program says that it cannot be read. */
  readonly value: number | null;
  readonly uncertainty: number | null;
  /** mm; of closing errors the width of the gap under the tape. */
  readonly truth: number;
  /** Of closing errors: what the reference's tape grew by. */
  readonly girthChange: number | null;
}

export interface ShellScore {
  readonly seed: number;
  readonly plan: ShellPlan;
  readonly seconds: number;
  readonly verdict: string;
  /** Codes with severity, of all findings. */
  readonly findings: readonly string[];
  readonly offset: OffsetScore | null;
  readonly measures: readonly { readonly id: MeasureId; readonly error: number; readonly uncertainty: number }[];
  readonly missed: readonly MeasureId[];
  readonly readings: readonly ShellReading[];
  /** Whether the planted error passes 1.5 times a limit for a recast, and whether a finding about the cut asks for one. */
  readonly strong: boolean;
  readonly caught: boolean;
  /** Findings about the cut that ask for care or a recast. */
  readonly cutFindings: readonly string[];
  /** Wall as the program has it less the true mean, and its uncertainty, mm; null where it has none. */
  readonly wall: { readonly error: number; readonly uncertainty: number; readonly how: string } | null;
  /** Thickness at single places against the truth, mm: root mean square away from weak places. */
  readonly thicknessRms: number | null;
  /** Weak places planted, and those within 15 mm of a finding about the wall. */
  readonly weak: { readonly planted: number; readonly found: number; readonly findings: number };
}

export function scoreShell(shell: Shell, plan: ShellPlan, outcome: CheckOutcome, seconds: number): ShellScore {
  const { truth } = shell;
  const { check, rules, measured, shelled } = outcome;
  const taken = new Map(measured.measurements.filter(isTaken).map((m) => [m.id, m]));
  const ids = truth.cut.kind === 'sound' ? (Object.keys(truth.measures) as MeasureId[]) : [];
  const readings = readingsOf(shell, outcome);
  const recasts = check.findings.filter((f) => CUT_CODES.includes(f.code) && f.severity === 'recast');
  const { closing, cutStep } = rules.check;
  const readable = plan.options.delivered === 'two-sided' || truth.cut.kind === 'gaping';
  const widest = Math.max(...Object.values(truth.cut.gap).map(Math.abs));
  const wallFindings = check.findings.filter((f) => WEAK.test(f.code));
  const places = wallFindings.filter((f) => f.at !== null).map((f) => intoTruth(shell, measured.transform, Float64Array.from(f.at as readonly number[])));
  return {
    seed: shell.seed, plan, seconds, verdict: check.verdict,
    findings: check.findings.map((f) => `${f.code} ${f.severity}`),
    offset: plan.options.delivered === 'outside' ? scoreOffset(shell, outcome) : null,
    measures: ids.filter((id) => taken.has(id)).map((id) => {
      const m = taken.get(id);
      return { id, error: (m?.value ?? NaN) - (truth.measures[id] as number), uncertainty: m?.uncertainty ?? NaN };
    }),
    missed: ids.filter((id) => !taken.has(id)),
    readings,
    strong: (readable && widest >= 1.5 * closing.recast) || truth.cut.step >= 1.5 * cutStep.recast,
    caught: recasts.length > 0,
    cutFindings: check.findings.filter((f) => CUT_CODES.includes(f.code) && f.severity !== 'note').map((f) => f.code),
    wall: shelled.wall && { error: shelled.wall.mm - truth.meanWall, uncertainty: shelled.wall.uncertainty, how: shelled.wall.how },
    thicknessRms: thicknessRms(shell, outcome),
    weak: {
      planted: truth.weak.length,
      found: truth.weak.filter(({ centre }) => places.some((p) => Math.hypot(p[0] - centre[0], p[1] - (truth.side === 'left' ? -1 : 1) * centre[1], p[2] - centre[2]) < 15)).length,
      findings: wallFindings.length,
    },
  };
}

/** Closing errors and the step, as read, beside the truth. Where the edges lie over each other and one side was scanned they cannot be read. */
function readingsOf({ truth }: Shell, { check }: CheckOutcome): ShellReading[] {
  const of = (id: string, value: number, girthChange: number | null): ShellReading[] => {
    const reading = check.readings.find((r) => r.id === id);
    return reading ? [{ id, value: reading.value, uncertainty: reading.uncertainty, truth: value, girthChange }] : [];
  };
  const girths = (Object.keys(CLOSING) as GirthId[]).flatMap((id) => of(CLOSING[id], truth.cut.gap[id], truth.cut.kind === 'warp' ? null : truth.cut.girthChange[id]));
  return [...girths, ...of('cut-step', truth.cut.step, null)];
}

/** Thickness is kept by vertex of the shelled mesh, in the scan's coordinates. */
function thicknessRms(shell: Shell, { shelled }: CheckOutcome): number | null {
  const { skin, wall, weak, edge, side } = shell.truth;
  if (shelled.thickness === null) return null;
  const p = intoTruth(shell, identity(), shelled.mesh.positions);
  let [sum, count] = [0, 0];
  for (let v = 0; v < shelled.thickness.length; v++) {
    const t = shelled.thickness[v];
    const [x, y, z] = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    if (Number.isNaN(t) || skin.distance(x, y, z, 10) === Infinity || z > edge(x, y) - 12) continue;
    if (weak.some(({ centre: c }) => Math.hypot(x - c[0], y - (side === 'left' ? -1 : 1) * c[1], z - c[2]) < 30)) continue;
    const q = skin.foot.point;
    if (shell.truth.marked(q[0], q[1], q[2]) > 0.05) continue;
    sum += (t - wall(q[0], q[1], q[2])) ** 2;
    count++;
  }
  return count === 0 ? null : Math.sqrt(sum / count);
}

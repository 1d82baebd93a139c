import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { compose, invertRigid, transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { weld } from '@cast-to-last/geometry/repair/weld';
import { DECISION_REACH_MM } from '@cast-to-last/pipeline/decisions';
import type { Report, ReportedMark } from '@cast-to-last/pipeline/report/report';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import type { StoredFile } from '@cast-to-last/runtime/records/json-types';
import { surfaceChange } from './surface-change.js';
import type { SurfaceChange } from './surface-change.js';

type ShownMark = Pick<ReportedMark, 'id' | 'kind' | 'centre' | 'depth'>;

/** What a candidate changes of the result that a cast has, both made of the same scan. */
export interface Comparison extends SurfaceChange {
  /** Girths of the last that are in either, mm; null where absent. */
  readonly girths: readonly { readonly id: string; readonly label: string; readonly before: number | null; readonly after: number | null }[];
  readonly marksCame: readonly ShownMark[];
  readonly marksWent: readonly ShownMark[];
}

interface Result {
  readonly report: Report;
  readonly last: Uint8Array;
}

async function resultOf(artifacts: Artifacts, files: readonly StoredFile[]): Promise<Result> {
  const bytes = (name: string): Promise<Uint8Array> => artifacts.bytes(files.find((file) => file.name === name)?.sha256 ?? '');
  return { report: JSON.parse(Buffer.from(await bytes('report.json')).toString()) as Report, last: await bytes('last.stl') };
}

/** Compares two results by their files; the frames may differ, the scan joins them. Throws NoSuchArtifact. */
export async function compareResults(artifacts: Artifacts, filesBefore: readonly StoredFile[], filesAfter: readonly StoredFile[]): Promise<Comparison> {
  const [before, after] = await Promise.all([resultOf(artifacts, filesBefore), resultOf(artifacts, filesAfter)]);
  const toAfter = compose(Float64Array.from(after.report.transform), invertRigid(Float64Array.from(before.report.transform)));
  const [first, second] = [before, after].map(({ last }) => weld(readMesh(last).mesh).mesh);
  return {
    ...surfaceChange(transformMesh(toAfter, first), second),
    girths: girthsOf(before.report, after.report),
    marksCame: withoutCounterpart(after.report.marks, before.report.marks),
    marksWent: withoutCounterpart(before.report.marks, after.report.marks),
  };
}

function girthsOf(before: Report, after: Report): Comparison['girths'] {
  const of = ({ measurements }: Report) => new Map(measurements.filter(({ id, on }) => on === 'last' && id.endsWith('-girth')).map((m) => [m.id, m]));
  const [first, second] = [of(before), of(after)];
  return [...new Set([...first.keys(), ...second.keys()])].map((id) => {
    const [a, b] = [first.get(id), second.get(id)];
    const value = (m: typeof a): number | null => (m !== undefined && 'value' in m ? m.value : null);
    return { id, label: (b ?? a)?.label ?? id, before: value(a), after: value(b) };
  });
}

/** Marks for which the others have none of the same kind that near. */
const withoutCounterpart = (marks: readonly ReportedMark[], others: readonly ReportedMark[]): ShownMark[] =>
  marks
    .filter((mark) => !others.some((other) => other.kind === mark.kind && Math.hypot(...mark.centre.map((c, k) => c - other.centre[k])) <= DECISION_REACH_MM))
    .map(({ id, kind, centre, depth }) => ({ id, kind, centre, depth }));

import { readFileSync } from 'node:fs';
import { isTaken } from '@cast-to-last/foot/measures';
import type { MeasureId } from '@cast-to-last/foot/measures';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { makeLast } from '@cast-to-last/pipeline/pipeline';
import type { MarkKind } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { settledMarks } from '@cast-to-last/pipeline/report/settled-marks';
import { compose, invertRigid, transformPositions, type Transform } from '@cast-to-last/geometry/numerics/transform';
import { scoreMarks, type MarksScore } from '../phantoms/scoring/score-marks.js';
import type { PlantedMark } from '../phantoms/truth.js';

/** What stands in a sample's truth file beside what is not read here. */
interface SampleTruth {
  readonly side: 'left' | 'right';
  readonly transform: readonly number[];
  readonly measures: { readonly [id in MeasureId]?: number };
  readonly marks: readonly (Omit<PlantedMark, 'vertices' | 'path'> & { readonly path?: readonly number[] })[];
}

/** What the pipeline makes of a sample cast under the default rules, and how that stands to what is known of it exactly. */
export interface SampleRun {
  /** Of the cleaned cast, mm or degrees; null where absent. */
  readonly measures: { readonly [id: string]: number | null };
  readonly marks: { readonly [kind in MarkKind]: number };
  /** Of the last. */
  readonly triangles: number;
  /** mm³ */
  readonly volume: number;
  /** Measure − truth, of every measure that both have. */
  readonly errors: { readonly [id: string]: number };
  /** Root mean square over the cleaned cast of the distance between its place in the settled frame and in the true one, mm. */
  readonly frameRms: number;
  readonly score: MarksScore;
}

export const SAMPLE_NAMES = ['2041-left', '2041-right', '2042-right', '2043-left', '2043-right', '2044-left'] as const;

const sample = (name: string): Buffer => readFileSync(new URL(`../../sample-meshes/${name}`, import.meta.url));

export async function runSample(name: string): Promise<SampleRun> {
  const truth = JSON.parse(sample(`${name}.truth.json`).toString('utf8')) as SampleTruth;
  const input = { bytes: sample(`${name}.stl`), fileName: `${name}.stl`, side: truth.side, kind: 'positive', unit: 'auto' } as const;
  const { inspected, measured, last } = await makeLast(input, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run());
  const marks = { dent: 0, bump: 0, ridge: 0, seam: 0 };
  for (const { kind } of inspected.marks) marks[kind]++;
  const measures = Object.fromEntries(measured.measurements.map((m) => [m.id, isTaken(m) ? m.value : null]));
  const errors = Object.fromEntries(
    Object.entries(truth.measures).flatMap(([id, value]) => (typeof measures[id] === 'number' ? [[id, measures[id] - value]] : [])),
  );
  const toTruth = compose(Float64Array.from(truth.transform) as Transform, invertRigid(measured.transform));
  const { positions } = measured.mesh;
  const moved = transformPositions(toTruth, positions);
  const squares = moved.reduce((sum, c, i) => sum + (c - positions[i]) ** 2, 0);
  return {
    measures, marks, triangles: last.mesh.triangles.length / 3, volume: last.volume, errors,
    frameRms: Math.sqrt(squares / (positions.length / 3)),
    score: scoreMarks(truth.marks.map(planted), settledMarks(inspected, measured), toTruth),
  };
}

/** The truth file holds every fifth point of a path: the points between lie on straight lines, near enough for a match within 5 mm. */
function planted({ path, ...mark }: SampleTruth['marks'][number]): PlantedMark {
  const vertices = new Uint32Array(0);
  if (path === undefined) return { ...mark, vertices };
  const dense: number[] = [];
  for (let i = 0; i + 3 < path.length; i += 3) for (let s = 0; s < 5; s++) for (let k = 0; k < 3; k++) dense.push(path[i + k] + (s / 5) * (path[i + 3 + k] - path[i + k]));
  dense.push(...path.slice(-3));
  return { ...mark, path: Float64Array.from(dense), vertices };
}

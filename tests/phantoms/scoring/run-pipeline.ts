import { performance } from 'node:perf_hooks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { makeLast } from '@cast-to-last/pipeline/pipeline';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { settledMarks } from '@cast-to-last/pipeline/report/settled-marks';
import { UNITS_PER_MM, type Phantom } from '../make-phantom.js';
import type { CastResult } from './score.js';

/**
 * The rules that figures are made with: whatever is found is smoothed, however deep and wherever, so that the figures are
 * those of finding and smoothing and not of what a workshop would rather be asked about.
 */
const RULES = parseRules({ name: 'figures', version: '1', marks: { depthThresholdMm: 20, landmarkDistanceMm: 0 } });

const run = (mesh: Mesh, side: 'left' | 'right', unit: 'mm' | 'cm' | 'm' | 'in' | 'auto'): Promise<CastOutcome> =>
  makeLast({ bytes: writeStl(mesh), fileName: 'phantom.stl', side, kind: 'positive', unit }, RULES, NO_DECISIONS, async (_name, _key, stage) => stage());

export type PipelineRun = { readonly result: CastResult; readonly seconds: number } | { readonly refused: string };

/** Puts a phantom's scan through the pipeline as a binary STL file in its own unit, which the pipeline infers; and the cleaned cast once more. */
export async function runPipeline({ scan, unit, truth }: Phantom, secondPass: boolean): Promise<PipelineRun> {
  const factor = UNITS_PER_MM[unit];
  const file: Mesh = { positions: scan.positions.map((c) => c * factor), triangles: scan.triangles };
  try {
    const start = performance.now();
    const outcome = await run(file, truth.side, 'auto');
    const seconds = (performance.now() - start) / 1000;
    const cleaned = outcome.measured.mesh;
    const again = secondPass ? newMarks(outcome, await run(cleaned, truth.side, 'mm')) : undefined;
    return {
      seconds,
      result: {
        transform: outcome.measured.transform,
        measurements: outcome.measured.measurements,
        marks: settledMarks(outcome.inspected, outcome.measured),
        cleaned,
        secondPassMarks: again,
      },
    };
  } catch (error) {
    if (error instanceof CastError) return { refused: `${error.code}: ${error.message}` };
    throw error;
  }
}

/** How near a mark of the second pass must lie to one that the first pass left for the maker to be that one, mm. */
const SAME_MARK = 8;

/** Marks of the second pass that are not ones which the first pass found and left unsmoothed. */
function newMarks(first: CastOutcome, second: CastOutcome): number {
  const left = settledMarks(first.inspected, first.measured).filter((mark) => mark.decision !== 'smooth');
  return settledMarks(second.inspected, second.measured).filter(
    ({ centre }) => !left.some((mark) => Math.hypot(...[0, 1, 2].map((k) => mark.centre[k] - centre[k])) < SAME_MARK),
  ).length;
}

import { performance } from 'node:perf_hooks';
import { compose, invertRigid } from '@cast-to-last/geometry/numerics/transform';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { Casting } from '@cast-to-last/pipeline/order';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import type { CastCheck } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { UNITS_PER_MM, type Phantom } from '../make-phantom.js';

export interface CheckRun {
  readonly check: CastCheck;
  /** Between the program's frame and the true one, degrees. */
  readonly frameAngleDeg: number;
  /** As measured, mm. */
  readonly footLength: number;
  readonly seconds: number;
}

/** Puts a phantom's scan through the pipeline up to the verdict, as a binary STL file in its own unit and with what the order says. */
export async function runCheck({ scan, unit, truth }: Phantom, casting: Casting): Promise<CheckRun | { readonly refused: string }> {
  const factor = UNITS_PER_MM[unit];
  const bytes = writeStl({ positions: scan.positions.map((c) => c * factor), triangles: scan.triangles });
  const start = performance.now();
  try {
    const outcome = await checkScan(
      { bytes, fileName: 'phantom.stl', side: truth.side, kind: 'positive', unit: 'auto', casting }, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, stage) => stage(),
    );
    const turn = compose(outcome.measured.transform, invertRigid(truth.transform));
    const frameAngleDeg = (Math.acos(Math.max(-1, Math.min(1, (turn[0] + turn[5] + turn[10] - 1) / 2))) * 180) / Math.PI;
    return { check: outcome.check, frameAngleDeg, footLength: outcome.measured.landmarks.footLength, seconds: (performance.now() - start) / 1000 };
  } catch (error) {
    if (error instanceof CastError) return { refused: error.code };
    throw error;
  }
}

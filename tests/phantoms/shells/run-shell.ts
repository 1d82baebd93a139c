import { performance } from 'node:perf_hooks';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { Casting } from '@cast-to-last/pipeline/order';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import type { ScanKind } from '@cast-to-last/pipeline/records';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { UNITS_PER_MM } from '../make-phantom.js';
import type { Shell } from './make-shell.js';

/** As for the other phantoms: whatever is found is smoothed, so that measures are those of the foot. The limits of the check are the usual ones. */
const RULES = parseRules({ name: 'figures', version: '1', marks: { depthThresholdMm: 20, landmarkDistanceMm: 0 } });

export type ShellRun = { readonly outcome: CheckOutcome; readonly seconds: number } | { readonly refused: string; readonly message: string };

/** What the bench says of the scan. */
export interface SaidOfScan {
  readonly kind: ScanKind;
  readonly wallMm?: number;
  readonly casting?: Casting;
}

/** Puts a shell's scan through the pipeline up to the verdict, as a binary STL file in its own unit, which the pipeline infers. */
export async function runShell({ scan, unit, truth }: Shell, { kind, wallMm, casting }: SaidOfScan): Promise<ShellRun> {
  const factor = UNITS_PER_MM[unit];
  const file: Mesh = { positions: scan.positions.map((c) => c * factor), triangles: scan.triangles };
  const input = { bytes: writeStl(file), fileName: 'shell.stl', side: truth.side, kind, unit: 'auto', wallMm, casting } as const;
  try {
    const start = performance.now();
    const outcome = await checkScan(input, RULES, NO_DECISIONS, async (_name, _key, stage) => stage());
    return { outcome, seconds: (performance.now() - start) / 1000 };
  } catch (error) {
    if (error instanceof CastError) return { refused: error.code, message: error.message };
    throw error;
  }
}

import { readMeshFile } from '@cast-to-last/pipeline/read-mesh-file';
import { checkScanner } from '@cast-to-last/pipeline/scanner/scanner-check';
import { storeScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import type { GaugeToCheck } from './thread-task.js';

/** A stored scan of the gauge, measured and judged. Throws CastError. */
export async function checkStoredGauge(artifacts: Artifacts, { sha256, fileName, unit, gauge, limits, date, programVersion }: GaugeToCheck): Promise<StoredScannerCheck> {
  const check = checkScanner({ mesh: readMeshFile(await artifacts.bytes(sha256)).mesh, unit }, gauge);
  return storeScannerCheck(check, limits, { date, fileName, sha256, programVersion });
}

import { keepTriangles } from '../surface/build-surface.js';
import { holes } from '../scan/damage.js';
import type { Random } from '../random.js';
import { INNER, OUTER, type Assembled } from './assemble.js';

/** The shell without what the scanner did not see: `count` holes, each through one sheet alone. */
export function withScanHoles({ mesh, sheetOf }: Assembled, count: number, random: Random): Assembled {
  if (count === 0) return { mesh, sheetOf };
  const { triangles } = mesh;
  const gone = new Uint8Array(triangles.length / 3);
  const sheets = [OUTER, INNER].map((sheet) => Array.from(gone.keys()).filter((t) => sheetOf[triangles[3 * t]] === sheet)).filter((own) => own.length > 0);
  for (let i = 0; i < count; i++) {
    const own = random.pick(sheets);
    const belongs = new Set(own);
    holes(keepTriangles(mesh, (t) => belongs.has(t)).mesh, 1, random).forEach((g, j) => {
      if (g === 1) gone[own[j]] = 1;
    });
  }
  const kept = keepTriangles(mesh, (t) => gone[t] === 0);
  return { mesh: kept.mesh, sheetOf: Uint8Array.from(kept.from, (v) => sheetOf[v]) };
}

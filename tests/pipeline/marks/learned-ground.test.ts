import { describe, expect, it } from 'vitest';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { learnedGround } from '@cast-to-last/pipeline/marks/learned-ground';
import { withoutMarks } from '@cast-to-last/pipeline/marks/without-marks';
import { ellipsoid } from '../../support/ellipsoid.ts';
import { fromPoint, withMark } from '../../support/marked.ts';

describe('what was learned of a mark', () => {
  it('is taken on the mark and on its margin, but for other marks there', () => {
    const masked = Uint8Array.of(1, 1, 0, 1, 0);
    expect([...learnedGround(Uint32Array.of(0, 1), new Set([1, 2, 3, 4]), masked)].sort()).toEqual([0, 1, 2, 4]);
  });

  it('steers what takes its place: a wide dent whose ground runs on unlike its ring comes out three tenths nearer, a line is left alone', () => {
    // A hump of its own, 44 mm wide, under a dent of 30 mm that hides it.
    const centre = [0, 60, 0] as const;
    const hump = withMark(ellipsoid([90, 60, 55], [0, 0, 0], 6), fromPoint(centre), 2.5, 44);
    const mesh = withMark(hump, fromPoint(centre), -2, 30);
    const plain = inspectionSurface(mesh, new Uint8Array(mesh.positions.length / 3), true);
    const truth = inspectionSurface(hump, new Uint8Array(mesh.positions.length / 3), true);
    const p = plain.mesh.positions;
    const away = (v: number): number => Math.hypot(p[3 * v], p[3 * v + 1] - 60, p[3 * v + 2]);
    const vertices = Uint32Array.from(plain.areas.keys()).filter((v) => away(v) < 13);
    const centreVertex = vertices.reduce((a, b) => (away(b) < away(a) ? b : a));
    // What was pressed in, to a tenth.
    const learned = Float32Array.from(plain.areas, (_, v) => 0.9 * (Math.hypot(p[3 * v], p[3 * v + 2]) < 20 ? p[3 * v + 1] - truth.mesh.positions[3 * nearest(truth.mesh.positions, p, v) + 1] : 0));
    const left = (kind: 'dent' | 'ridge', surface: typeof plain): number => {
      const { mesh: mended } = withoutMarks(surface, [{ kind, vertices, centreVertex, margin: 4 }]);
      const q = mended.positions;
      return Math.abs(q[3 * centreVertex + 1] - truth.mesh.positions[3 * nearest(truth.mesh.positions, q, centreVertex) + 1]);
    };
    expect(left('dent', { ...plain, learned })).toBeLessThan(0.7 * left('dent', plain));
    expect(left('ridge', { ...plain, learned })).toBe(left('ridge', plain));
  });
});

/** The vertex of `among` that lies nearest across y to a vertex of `p`. */
function nearest(among: Float64Array, p: Float64Array, v: number): number {
  let best = 0;
  const off = (w: number): number => Math.hypot(among[3 * w] - p[3 * v], among[3 * w + 2] - p[3 * v + 2]) + (among[3 * w + 1] < 0 ? 1e3 : 0);
  for (let w = 1; w < among.length / 3; w++) if (off(w) < off(best)) best = w;
  return best;
}

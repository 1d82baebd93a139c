import { describe, expect, it } from 'vitest';
import { insideAnkleBone } from '@cast-to-last/foot/position/inside-ankle-bone';
import type { StandingCast } from '@cast-to-last/foot/position/standing-cast';
import type { Side } from '@cast-to-last/foot/side';
import { openCylinder } from '../../support/meshes.ts';
import { landmarksFor, standing } from '../../support/standing.ts';

/** A pipe with a bulge on each side: the inner one at `height`, the outer one lower and greater. */
function ankle(height: number, side: Side = 'right', bulge = 6): StandingCast {
  const pipe = openCylinder(1, 180, 120, 90);
  const positions = pipe.positions.slice();
  const m = side === 'right' ? 1 : -1;
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [65 + 42 * positions[i], 30 * positions[i + 1], positions[i + 2]];
    const inner = m * y > 0;
    const stands = (inner ? bulge : 9) * Math.exp(-(((x - (inner ? 64 : 50)) / 11) ** 2 + ((z - (inner ? height : height - 14)) / 12) ** 2));
    positions.set([x, y + Math.sign(y) * stands + 0.02 * y * Math.max(0, z - 120) * 0.1, z], i);
  }
  return standing({ positions, triangles: pipe.triangles }, { side, landmarks: landmarksFor(side) });
}

describe('insideAnkleBone', () => {
  it.each([62, 75, 90])('is where the inner side bulges (%i mm up), on both feet', (height) => {
    for (const side of ['left', 'right'] as const) {
      const bone = insideAnkleBone(ankle(height, side));
      expect(bone?.[2]).toBeGreaterThan(height - 1.5);
      expect(bone?.[2]).toBeLessThan(height + 1.5);
      expect(Math.abs((bone?.[0] ?? 0) - 64)).toBeLessThan(4);
      expect(Math.sign(bone?.[1] ?? 0)).toBe(side === 'right' ? 1 : -1);
    }
  });

  it('is not seen where nothing stands out, or where the cast ends below it', () => {
    expect(insideAnkleBone(ankle(75, 'right', 0.3))).toBeNull();
    expect(insideAnkleBone({ ...ankle(75), wholeTo: 72 })).toBeNull();
    expect(insideAnkleBone({ ...ankle(75), wholeTo: 95 })).not.toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import { mean } from '../../support/statistics.js';
import { projectToField } from '../surface/densify.js';
import { fitFoot, roomFor, type FootDrawing } from './fit-foot.js';
import { footOfBones } from './foot-bones.js';
import { drawFoot, ODDITIES } from './foot-parameters.js';
import { footOfSections } from './foot-sections.js';
import { meshField } from '../surface/mesh-field.js';
import { randomFrom } from '../random.js';
import { referenceFrame } from '../reference/frame.js';
import { referenceMeasures } from '../reference/measures.js';

/**
 * Generated feet against the population of ANSUR II (2012, NATICK/TR-15/007; ratios computed from the public records,
 * n = 4082 men and 1986 women).
 */
const ANSUR = {
  length: { men: 271.2, women: 246.3, sd: 13.1 },
  breadth: { mean: 0.3765, sd: 0.0175 },
  ballGirth: { mean: 0.929, sd: 0.042 },
  heelBreadth: { mean: 0.27, sd: 0.018 },
  medialBall: { mean: 0.74, sd: 0.015 },
} as const;

const PER_FAMILY = 10;

function measuresOf(draw: FootDrawing, seed: number) {
  const foot = fitFoot(draw, drawFoot(randomFrom(seed, 'population')));
  const field = draw(foot);
  const mesh = meshField(field, roomFor(foot, 140), 4);
  projectToField(field, mesh.positions, 2);
  const { measures } = referenceMeasures(transformMesh(referenceFrame(mesh, 'right'), mesh), 'right', { only: ['foot-length', 'foot-breadth', 'ball-girth', 'heel-width', 'medial-ball-length'] });
  return { foot, length: measures['foot-length'] as number, breadth: measures['foot-breadth'] as number, girth: measures['ball-girth'] as number, heel: measures['heel-width'] as number, medial: measures['medial-ball-length'] as number };
}

describe.each<[string, FootDrawing]>([['bones', footOfBones], ['sections', footOfSections]])('feet of %s (seeds 1 to 10) against ANSUR II', (_family, draw) => {
  const feet = Array.from({ length: PER_FAMILY }, (_, i) => measuresOf(draw, i + 1));

  it('come out as drawn', () => {
    for (const f of feet) {
      expect(Math.abs(f.length - f.foot.targets.length)).toBeLessThan(3);
      expect(Math.abs(f.breadth - f.foot.targets.breadth)).toBeLessThan(2.5);
      expect(Math.abs(f.heel - f.foot.targets.heelBreadth)).toBeLessThan(4);
    }
  });

  it('have ratios like the population’s', () => {
    // A mean of 10 lies within 3·SD/√10 = 0.95 SD of the population's.
    for (const [of, { mean: wanted, sd }] of [['breadth', ANSUR.breadth], ['girth', ANSUR.ballGirth], ['heel', ANSUR.heelBreadth]] as const) {
      expect(Math.abs(mean(feet.map((f) => f[of] / f.length)) - wanted)).toBeLessThan(0.95 * sd);
    }
    // Not fitted foot by foot, only drawn like the mean.
    expect(Math.abs(mean(feet.map((f) => f.medial / f.length)) - ANSUR.medialBall.mean)).toBeLessThan(0.02);
    for (const f of feet) expect(Math.abs(f.girth / f.length - ANSUR.ballGirth.mean)).toBeLessThan(3.5 * ANSUR.ballGirth.sd);
  });
});

describe('drawFoot', () => {
  it('draws lengths and girths like ANSUR II, and malleoli at their heights (seeds 1 to 400)', () => {
    const feet = Array.from({ length: 400 }, (_, i) => drawFoot(randomFrom(i + 1, 'many')));
    const lengths = feet.map((f) => f.targets.length);
    expect(Math.abs(mean(lengths) - (ANSUR.length.men + ANSUR.length.women) / 2)).toBeLessThan(3);
    expect(Math.min(...lengths)).toBeGreaterThan(215);
    expect(Math.max(...lengths)).toBeLessThan(305);
    // The regression for men and women: 92.15 + 0.5895·F (10.4) and 86.94 + 0.5732·F (9.4).
    const residual = mean(feet.map((f) => f.targets.ballGirth - (89.5 + 0.5814 * f.targets.length)));
    expect(Math.abs(residual)).toBeLessThan(4);
    for (const f of feet) {
      expect(f.lateralMalleolusHeight).toBeGreaterThan(50);
      expect(f.lateralMalleolusHeight).toBeLessThan(87);
      expect(f.medialMalleolusHeight).toBeGreaterThan(f.lateralMalleolusHeight);
    }
  });

  it.each(ODDITIES)('draws a foot with %s unlike the plain one of the same seed', (oddity) => {
    expect(drawFoot(randomFrom(5), [oddity])).not.toEqual(drawFoot(randomFrom(5)));
  });
});

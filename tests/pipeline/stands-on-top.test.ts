import { describe, expect, it } from 'vitest';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { identity } from '@cast-to-last/geometry/numerics/transform';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom } from '../phantoms/make-phantom.ts';

const { scan } = makePhantom(130, { triangles: 40_000, side: 'right', unit: 'mm', top: 'capped', posed: false, debris: false, holes: 0, missingSole: false });
const top = bounds(scan.positions)[5];

/** Every dent is smoothed, however deep: one beside the ankle's tape is 4 mm deep, just where the default rules begin to ask. */
const RULES = parseRules({ name: 'all smoothed', version: '1', marks: { depthThresholdMm: 20 } });

const processed = (mesh: Mesh): Promise<CheckOutcome> =>
  checkScan({ bytes: writeStl(mesh), fileName: 'cast.stl', side: 'right', kind: 'positive', unit: 'mm' }, RULES, NO_DECISIONS, async (_name, _key, stage) => stage());

/** The middle of what lies within 10 mm of the top. */
function middleOfTop(): readonly [number, number] {
  const p = scan.positions;
  const [low, high] = [[Infinity, Infinity], [-Infinity, -Infinity]];
  for (let i = 0; i < p.length; i += 3) {
    if (p[i + 2] < top - 10) continue;
    for (const k of [0, 1]) {
      low[k] = Math.min(low[k], p[i + k]);
      high[k] = Math.max(high[k], p[i + k]);
    }
  }
  return [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2];
}

/** The cast with a rod that the plaster was poured round: `radius`, and how far it reaches above the top, mm. */
const withRod = (radius: number, reach: number): Promise<Mesh> =>
  withSolids((scope) => {
    const [x, y] = middleOfTop();
    const at = identity();
    [at[3], at[7], at[11]] = [x, y, top - 30];
    return scope.ofMesh(scan).union(scope.cylinder(radius, reach + 30, 48).transform(at)).toMesh();
  });

const ankleOf = ({ measured }: CheckOutcome): number => measured.measurements.flatMap((m) => (m.id === 'ankle-girth' && 'value' in m ? [m.value] : []))[0] ?? NaN;

describe('a positive with the rod that it was poured round', () => {
  it.each([[8, 170], [20, 90]])('is measured and searched for marks as without it: radius %i mm, %i mm long', async (radius, reach) => {
    const bare = await processed(scan);
    const rod = await processed(await withRod(radius, reach));
    expect(ankleOf(rod)).toBeCloseTo(ankleOf(bare), 0);
    const codes = rod.check.findings.map(({ code }) => code);
    expect(codes).toContain('stands-on-top');
    expect(codes).not.toContain('top-closed');
    expect(bare.check.findings.map(({ code }) => code)).toContain('top-closed');
    const told = rod.check.findings.find(({ code }) => code === 'stands-on-top')?.value ?? NaN;
    expect(Math.abs(told - top)).toBeLessThan(6);
    expect(rod.inspected.marks.filter(({ centre }) => centre[2] > told)).toEqual([]);
    expect(rod.inspected.marks.length).toBeLessThanOrEqual(bare.inspected.marks.length + 1);
  });
});

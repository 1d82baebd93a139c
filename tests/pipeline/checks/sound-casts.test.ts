import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { Oddity } from '../../phantoms/foot/foot-parameters.js';
import { makePhantom } from '../../phantoms/make-phantom.js';
import { planCast } from '../../phantoms/position/plan-cast.js';
import { runCheck } from '../../phantoms/position/run-check.js';

const checked = async (seed: number, oddities: readonly Oddity[]) => {
  const { scan, truth } = makePhantom(seed, { triangles: 20_000, denseTriangles: 20_000, oddities, unit: 'mm', missingSole: false });
  const input = { bytes: writeStl(scan), fileName: 'cast.stl', side: truth.side, kind: 'positive', unit: 'mm' } as const;
  return (await checkScan(input, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run())).check;
};

describe('sound casts', () => {
  it.each([
    [31, ['long-second-toe']],
    [12, ['flat-arch']],
    [15, ['bunion']],
  ] as [number, Oddity[]][])('are never to be cast again (seed %i, %j)', async (seed, oddities) => {
    const { verdict, findings, readings } = await checked(seed, oddities);
    expect(findings.filter((f) => f.severity === 'recast')).toEqual([]);
    expect(verdict).not.toBe('recast');
    const ids = readings.map((r) => r.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { value, why, id } of readings) expect(value !== null || why !== '', id).toBe(true);
    for (const { text, code } of findings) expect(text, code).not.toMatch(/undefined|NaN|null/);
    expect(ids).toEqual(expect.arrayContaining([
      'stops-short', 'toes-closed', 'surface-made-up', 'sole-bend', 'heel-pitch', 'toe-pitch', 'heel-on-plate', 'ball-on-hinge', 'rear-view', 'forward-lean',
      'forefoot-twist', 'sole-flatness', 'toe-box', 'toe-spread', 'beyond-toes',
    ]));
  });

  it('whose closed top leans have no cut over it (seed 487 of the planned positions)', async () => {
    const plan = planCast(487, 25_000);
    const phantom = makePhantom(plan.seed, plan.options);
    expect(phantom.made.top).toBe('capped');
    const ran = await runCheck(phantom, plan.casting);
    if ('refused' in ran) throw new Error(ran.refused);
    expect(ran.check.verdict).not.toBe('recast');
    expect(ran.check.readings.find(({ id }) => id === 'cut-step')?.value).toBeLessThan(0.6);
  });
});

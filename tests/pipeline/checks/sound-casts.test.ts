import { describe, expect, it } from 'vitest';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules';
import type { Oddity } from '../../phantoms/foot-parameters.js';
import { makePhantom } from '../../phantoms/make-phantom.js';

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
});

import { describe, expect, it } from 'vitest';
import type { MeasureId, Measurement } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CheckRules } from '@cast-to-last/pipeline/rules/check-rules';
import type { CheckContext, CheckPart } from '@cast-to-last/pipeline/checks/check-context';
import { checkShellHealth } from '@cast-to-last/pipeline/checks/shell-health';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { onPlates } from '../../support/booted.ts';
import { TUBE, cutTube, flap, gap, seam } from '../../support/cut-map.ts';
import { rng } from '../../support/rng.ts';

const { check: rules } = DEFAULT_RULES;
const TAPES = { 'ball-girth': 150, 'waist-girth': 110, 'instep-girth': 80 } as const;

/** A tape round the tube at some x. */
function taped(id: MeasureId, x: number): Measurement {
  const tape = Float64Array.from({ length: 3 * 180 }, (_, i) => {
    const angle = (2 * Math.PI * Math.floor(i / 3)) / 180;
    return [x, TUBE * Math.sin(angle), TUBE + TUBE * Math.cos(angle)][i % 3];
  });
  return { id, label: MEASURE_LABELS[id], value: 2 * Math.PI * TUBE, unit: 'mm', uncertainty: 0.4, on: 'cast', onFilled: 0, tape };
}

const allTapes = (Object.keys(TAPES) as (keyof typeof TAPES)[]).map((id) => taped(id, TAPES[id]));

function contextOf(
  mesh: Mesh, changes: Partial<CheckRules> = {}, measurements: readonly Measurement[] = allTapes, isMissing: (x: number, y: number, z: number) => boolean = () => false,
): CheckContext {
  const context = onPlates({ bend: 12, hinge: 185 });
  const p = mesh.positions;
  const filled = Uint8Array.from({ length: p.length / 3 }, (_, v) => Number(isMissing(p[3 * v], p[3 * v + 1], p[3 * v + 2])));
  const landmarks = { ...context.aligned.landmarks, footLength: 220, instep: [80, 0, 2 * TUBE] as const };
  const aligned = { ...context.aligned, mesh, filled, landmarks, opening: new Uint32Array(1) };
  return { ...context, aligned, rules: { ...rules, ...changes }, measured: { ...context.measured, mesh, landmarks, measurements } };
}

/** Noise of a scan on the tube's vertices, and a cut that opens behind the ball. */
function checked(seed: number, line: (x: number, u: number) => number, changes?: Partial<CheckRules>, measurements?: readonly Measurement[]): CheckPart {
  const random = rng(seed);
  return checkShellHealth(contextOf(cutTube((x, u) => line(x, u) + 0.05 * random.normal()), changes, measurements));
}

const gaping = (widest: number) => (x: number, u: number): number => {
  const width = widest * Math.max(0, Math.min(1, (150 - x) / 35));
  return width < 1 ? 0 : gap(width, 0.7, -0.6)(u);
};
const reading = (part: CheckPart, id: string) => part.readings.find((r) => r.id === id);
const severities = ({ findings }: CheckPart) => findings.map(({ code, severity }) => `${code} ${severity}`);

describe('a cut that stands open', () => {
  /** Its edges on top of the tube, from x = −20 to 160. */
  const open = (width: number): Float64Array => {
    const edge = Array.from({ length: 181 }, (_, i) => [i - 20, -width / 2, 2 * TUBE - width ** 2 / 8 / TUBE]);
    return Float64Array.from([...edge, ...edge.toReversed().map(([x, y, z]) => [x, -y, z])].flat());
  };
  const smooth = contextOf(cutTube(() => 0));
  const part = (width: number): CheckPart => checkShellHealth({ ...smooth, repaired: { ...smooth.repaired, openCuts: [open(width)] } });

  it('is read at its edges, however smooth what was put between them', () => {
    for (const id of ['closing-ball', 'closing-waist', 'closing-instep']) {
      expect(checkShellHealth(smooth).readings.find((r) => r.id === id)?.value, id).toBe(0);
      expect(reading(part(4.5), id)?.value, id).toBeCloseTo(4.5, 6);
    }
  });

  it('tells no step where its edges stand unlike each other', () => {
    const stepped = contextOf(cutTube((_x, u) => (u > 0 ? 5 * Math.max(0, 1 - u / 25) : 0)));
    expect(reading(checkShellHealth(stepped), 'cut-step')?.value).toBeGreaterThan(3);
    const told = checkShellHealth({ ...stepped, repaired: { ...stepped.repaired, openCuts: [open(4)] } });
    expect(reading(told, 'cut-step')).toMatchObject({ value: null });
    expect(told.findings.map(({ code }) => code)).not.toContain('cut-step');
  });

  it('needs care, and no new cast however far it stands open: it can be closed', () => {
    expect(severities(part(1.5))).toEqual([]);
    expect(severities(part(4.5))).toEqual(['closing-ball care', 'closing-waist care', 'closing-instep care']);
    expect(severities(part(9))).toEqual(['closing-ball care', 'closing-waist care', 'closing-instep care']);
    expect(part(9).findings[0].text).toContain('stands open by about 9 mm at the ball');
  });
});

describe('closing of the cut', () => {
  it('asks for a new cast where the flaps stood far apart, at the tapes where they did (seed 1)', () => {
    const part = checked(1, gaping(13));
    for (const id of ['closing-waist', 'closing-instep']) {
      expect(Math.abs((reading(part, id)?.value ?? NaN) - 13), id).toBeLessThan(1.5);
      expect(reading(part, id)).toMatchObject({ wanted: 0, unit: 'mm', ...rules.closing });
      expect(reading(part, id)?.at?.[0], id).toBeCloseTo(id === 'closing-waist' ? 110 : 80, -0.5);
    }
    expect(reading(part, 'closing-ball')?.value).toBe(0);
    expect(severities(part)).toEqual(['closing-waist recast', 'closing-instep recast']);
    expect(part.findings[1].text).toMatch(/1[234] mm apart at the instep/);
  });

  it('asks for care alone where the limit lies within the uncertainty (seed 2)', () => {
    const part = checked(2, gaping(13), { closing: { care: 3, recast: 11 } });
    expect(severities(part)).toEqual(['closing-waist care', 'closing-instep care']);
    expect(part.findings[0].limit).toBe(3);
  });

  it('finds nothing on a well closed cut, nor without one, and says how sure it is (seed 3)', () => {
    for (const part of [checked(3, (_, u) => seam(1.2)(u)), checked(3, () => 0)]) {
      expect(part.findings).toEqual([]);
      for (const id of ['closing-ball', 'closing-waist', 'closing-instep']) {
        expect(reading(part, id)?.value, id).toBe(0);
        expect(reading(part, id)?.uncertainty, id).toBeGreaterThan(0);
      }
    }
  });

  it('does not guess how far flaps overlap of which one side shows (seed 4)', () => {
    const part = checked(4, (_, u) => flap(5)(u));
    for (const id of ['closing-ball', 'closing-waist', 'closing-instep']) {
      expect(reading(part, id)).toMatchObject({ value: null, uncertainty: null });
      expect(reading(part, id)?.why).toContain('one side');
    }
    expect(severities(part)).toEqual(['cut-step recast']);
  });

  it('says which tape could not be laid (seed 5)', () => {
    const part = checked(5, gaping(13), {}, allTapes.slice(0, 2));
    expect(reading(part, 'closing-instep')).toMatchObject({ value: null, why: 'The tape could not be laid there.' });
    expect(severities(part)).toEqual(['closing-waist recast']);
  });
});

describe('a scan whose points lie far apart', () => {
  const coarse = (spacing: number): CheckPart => {
    const context = contextOf(cutTube((x, u) => gaping(13)(x, u)));
    return checkShellHealth({ ...context, inspected: { ...context.inspected, surface: { ...context.inspected.surface, spacing } } });
  };

  it('tells nothing of the cut, and says so', () => {
    const part = coarse(3.3);
    expect(part.readings.map(({ id, value }) => [id, value])).toEqual([['closing-ball', null], ['closing-waist', null], ['closing-instep', null], ['cut-step', null]]);
    for (const { why } of part.readings) expect(why).toContain('3.3 mm apart');
    expect(severities(part)).toEqual(['scan-coarse note']);
  });

  it('is read up to the limit', () => {
    expect(severities(coarse(3.1))).toEqual(['closing-waist recast', 'closing-instep recast']);
  });
});

describe('a rippled scan', () => {
  it('tells nothing of the cut, and asks for care', () => {
    const context = contextOf(cutTube((x, u) => gaping(13)(x, u)));
    const part = checkShellHealth({ ...context, inspected: { ...context.inspected, rippled: true } });
    expect(part.readings.map(({ id, value }) => [id, value])).toEqual([['closing-ball', null], ['closing-waist', null], ['closing-instep', null], ['cut-step', null]]);
    expect(severities(part)).toEqual(['scan-rippled care']);
  });
});

describe('a narrow gap', () => {
  it('that may as well be a seam asks for care, in words that name both (seeds 61 to 66)', () => {
    const doubted = [61, 62, 63, 64, 65, 66].map((seed) => checked(seed, (x, u) => (x > 150 ? 0 : gap(6, 0.75, -0.65)(u)))).filter(({ readings }) => readings.some(({ why }) => why.startsWith('Two lines')));
    expect(doubted.length).toBeGreaterThan(0);
    for (const part of doubted) expect(part.findings).toContainEqual(expect.objectContaining({ code: 'cut-hidden', severity: 'care', text: expect.stringContaining('a narrow gap or the two sides of a seam') }));
  });
});

describe('a shell of which one side shows a gap and the other a flap that rides', () => {
  const gaped = contextOf(cutTube((x, u) => gaping(9)(x, u)));
  const told = (outer: (u: number) => number): CheckPart =>
    checkShellHealth({ ...gaped, repaired: { ...gaped.repaired, outerSheet: cutTube((_x, u) => 4 + outer(u)) } });

  it('asks for care, in words that name both', () => {
    const part = told(flap(4));
    expect(severities(part)).toEqual(['cut-hidden care']);
    expect(part.findings[0].text).toMatch(/gap.*stands over the other/);
  });

  it('is read as gaping where the other side shows no step', () => {
    const part = told(() => 0);
    for (const id of ['closing-waist', 'closing-instep']) expect(Math.abs((reading(part, id)?.value ?? NaN) - 9), id).toBeLessThan(1.5);
    expect(part.findings.map(({ code }) => code)).toEqual(['closing-waist', 'closing-instep']);
  });
});

describe('a top whose texture looks like the edges of a gap (seed 8)', () => {
  it('tells nothing of the cut, and says why', () => {
    const part = checked(8, (x, u) => 0.3 * Math.sin((2 * Math.PI * (u - 0.03 * x)) / 8));
    expect(part.readings.map(({ id, value }) => [id, value])).toEqual([['closing-ball', null], ['closing-waist', null], ['closing-instep', null], ['cut-step', null]]);
    for (const { why } of part.readings) expect(why).toContain('as clear');
    expect(severities(part)).toEqual(['cut-hidden care']);
  });
});

describe('where the top of the foot was missing in the scan', () => {
  /** What repair made ends along the foot, where it looks like one edge of a gaping cut. */
  const mended = (upTo: number) => checkShellHealth(contextOf(cutTube(gaping(13)), {}, allTapes, (x, y, z) => x < upTo && z > TUBE && y > 7));

  it('tells nothing of a cut, and says why', () => {
    const part = mended(240);
    for (const id of ['closing-waist', 'closing-instep']) expect(reading(part, id)).toMatchObject({ value: null, why: expect.stringContaining('missing in the scan') });
    expect(severities(part)).toEqual([]);
  });

  it('tells of no step either, where none of its course was scanned', () => {
    const { readings } = checkShellHealth(contextOf(cutTube(gaping(13)), {}, allTapes, (_, y, z) => z > TUBE && Math.abs(y) < 25));
    expect(readings.find(({ id }) => id === 'cut-step')).toMatchObject({ value: null, why: expect.stringContaining('missing in the scan') });
  });

  it('tells of it where it was scanned', () => {
    const part = mended(95);
    expect(reading(part, 'closing-instep')?.value).toBeNull();
    expect(severities(part)).toEqual(['closing-waist recast']);
  });
});

describe('step along the cut', () => {
  it.each([[0.6, []], [2.3, ['cut-step care']], [4.8, ['cut-step recast']]] as const)('of %f mm makes %j (seed 6)', (height, expected) => {
    // The higher flap comes back to its place over the whole side of the tube.
    const part = checked(6, (_, u) => 0.5 * height * (1 + Math.tanh(u / 0.8)) * Math.cos(Math.max(0, u) / (2 * TUBE)));
    expect(severities(part)).toEqual(expected);
    const { value, uncertainty } = reading(part, 'cut-step') ?? {};
    expect(Math.abs((value ?? NaN) - height)).toBeLessThan(uncertainty ?? 0);
  });
});

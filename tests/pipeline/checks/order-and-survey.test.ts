import { describe, expect, it } from 'vitest';
import type { MeasureId, Measurement } from '@cast-to-last/foot/measures';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import { ANSUR2, ANSUR2_RATIOS } from '@cast-to-last/foot/published/ansur2';
import { checkLoad } from '@cast-to-last/pipeline/checks/load';
import { checkPopulation } from '@cast-to-last/pipeline/checks/population';
import { checkTape } from '@cast-to-last/pipeline/checks/tape';
import type { Casting } from '@cast-to-last/pipeline/order';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { onPlates } from '../../support/booted.ts';

const { check: rules } = DEFAULT_RULES;

const taken = (id: MeasureId, value: number): Measurement => ({ id, label: MEASURE_LABELS[id], value, unit: 'mm', uncertainty: 0.4, on: 'cast', onFilled: 0 });

function measuredAs(measurements: readonly Measurement[], casting: Casting = {}) {
  const context = onPlates({ bend: 12, hinge: 185, casting });
  return { ...context, measured: { ...context.measured, measurements } };
}

describe('the cast against the customer’s tape', () => {
  const cast = [taken('foot-length', 260), taken('ball-girth', 240), { id: 'ankle-girth', label: 'ankle girth', on: 'cast', absent: 'The cast stops short.' }] as const;

  it('is a note where they differ by more than the rules allow, in per cent of the tape', () => {
    const { tapePercent } = rules;
    const { readings, findings } = checkTape(measuredAs(cast, { tape: { right: { 'foot-length': 260 / (1 + (tapePercent + 0.2) / 100), 'ball-girth': 240 / (1 - (tapePercent - 0.2) / 100) } } }));
    expect(readings.map((r) => r.id)).toEqual(['tape-foot-length', 'tape-ball-girth']);
    expect(readings[0].value).toBeCloseTo(tapePercent + 0.2, 9);
    expect(readings[1].value).toBeCloseTo(-tapePercent + 0.2, 9);
    expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['tape-foot-length note']);
    expect(findings[0].text).toContain('more than the');
  });

  it('takes the tape of this foot alone, and says what could not be taken', () => {
    expect(checkTape(measuredAs(cast, { tape: { left: { 'foot-length': 200 } } }))).toEqual({ readings: [], findings: [] });
    const { readings, findings } = checkTape(measuredAs(cast, { tape: { right: { 'ankle-girth': 220 } } }));
    expect(readings[0]).toMatchObject({ id: 'tape-ankle-girth', value: null, why: 'The cast stops short.' });
    expect(findings).toEqual([]);
  });
});

describe('the cast against the population (ANSUR II)', () => {
  const { men, women } = ANSUR2;
  const usual = [taken('foot-length', 260), taken('ball-girth', 242), taken('foot-breadth', 98), taken('heel-width', 70), taken('medial-ball-length', 192)];
  const with_ = (id: MeasureId, value: number) => checkPopulation(measuredAs(usual.map((m) => (m.id === id ? taken(id, value) : m))));

  it('finds nothing on an average foot', () => {
    expect(checkPopulation(measuredAs(usual)).findings).toEqual([]);
    expect(checkPopulation(measuredAs(usual)).readings.every((r) => r.value !== null)).toBe(true);
  });

  it('is a note outside P1 of women to P99 of men, and names the survey as one of soldiers', () => {
    expect(with_('foot-length', women.footLength.p1 - 1).findings.map((f) => f.code)).toContain('population-foot-length');
    expect(with_('foot-length', women.footLength.p1 + 1).findings.map((f) => f.code)).not.toContain('population-foot-length');
    const { findings } = with_('foot-length', men.footLength.p99 + 1);
    expect(findings.every((f) => f.severity === 'note')).toBe(true);
    expect(findings.find((f) => f.code === 'population-foot-length')?.text).toMatch(/ANSUR II.*soldiers/);
  });

  it('is a note where a ratio lies outside mean ± 2.33 SD of both sexes', () => {
    const { mean, sd } = ANSUR2_RATIOS.women.medialBallLengthToFL;
    const least = mean - 2.33 * sd;
    const code = 'population-medial-ball-length-to-foot-length';
    // Of men and women the lower bound is the men's, 0.741 - 2.33 * 0.015.
    const bound = Math.min(least, ANSUR2_RATIOS.men.medialBallLengthToFL.mean - 2.33 * ANSUR2_RATIOS.men.medialBallLengthToFL.sd);
    expect(with_('medial-ball-length', 260 * (bound - 0.002)).findings.map((f) => f.code)).toEqual([code]);
    expect(with_('medial-ball-length', 260 * (bound + 0.002)).findings).toEqual([]);
  });

  it('says so where a measure could not be taken', () => {
    const { readings } = checkPopulation(measuredAs(usual.filter((m) => m.id !== 'ball-girth')));
    expect(readings.filter((r) => r.value === null).map((r) => r.id)).toEqual(['population-ball-girth', 'population-ball-girth-to-foot-length', 'population-ball-girth-to-foot-breadth']);
  });
});

describe('the load while casting', () => {
  const codes = (casting: Casting) => checkLoad({ casting }).findings.map((f) => `${f.code} ${f.severity}`);

  it('is a note where it was not the usual one or the order does not say, with what load does to a foot (Tsung 2003)', () => {
    expect(codes({ load: 'seated' })).toEqual([]);
    expect(codes({ load: 'full', discipline: 'cycling-type' })).toEqual(['load-unusual note']);
    expect(codes({ discipline: 'cycling-type' })).toEqual(['load-unknown note']);
    const [{ text }] = checkLoad({ casting: { load: 'half' } }).findings;
    expect(text).toContain('2.7 %');
    expect(text).toContain('15.4 %');
    expect(text).toContain('Tsung');
  });

  it('is no matter where there is no order', () => {
    expect(codes({})).toEqual([]);
    expect(codes({ discipline: undefined, footbed: undefined })).toEqual([]);
  });
});

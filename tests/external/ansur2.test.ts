import { describe, expect, it } from 'vitest';
import { ANSUR2, ANSUR2_RATIOS } from '@cast-to-last/foot/published/ansur2';

/** ANSUR II, computed from the public records: the figures must agree with one another as those of one survey do. */
describe.each(['men', 'women'] as const)('ANSUR II, %s', (sex) => {
  const table = ANSUR2[sex];

  it.each(Object.entries(table))('%s: percentiles 1 and 99 lie about 2.33 standard deviations from the mean', (_, { mean, sd, p1, p99 }) => {
    expect(Math.abs((mean - p1) / sd - 2.33)).toBeLessThan(0.4);
    expect(Math.abs((p99 - mean) / sd - 2.33)).toBeLessThan(0.4);
  });

  it('mean ratios are close to the ratios of the means', () => {
    const ratios = ANSUR2_RATIOS[sex];
    expect(Math.abs(ratios.breadthToFL.mean - table.breadth.mean / table.footLength.mean)).toBeLessThan(0.002);
    expect(Math.abs(ratios.ballGirthToFL.mean - table.ballGirth.mean / table.footLength.mean)).toBeLessThan(0.002);
    expect(Math.abs(ratios.heelBreadthToFL.mean - table.heelBreadth.mean / table.footLength.mean)).toBeLessThan(0.002);
    expect(Math.abs(ratios.ballGirthToBreadth.mean - table.ballGirth.mean / table.breadth.mean)).toBeLessThan(0.005);
  });
});

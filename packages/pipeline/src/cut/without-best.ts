/** The sum of gains along a course without its best stretch of so many: what one seam, fold or dent bears out is not enough. */
export function withoutBest(gains: readonly number[], length: number): number {
  let stretch = 0;
  let best = 0;
  gains.forEach((gain, i) => {
    stretch += gain - (gains[i - length] ?? 0);
    best = Math.max(best, stretch);
  });
  return gains.reduce((sum, gain) => sum + gain, 0) - best;
}

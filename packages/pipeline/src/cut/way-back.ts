/**
 * The states along the likeliest way, first to last.
 *
 * @param from for each step after the first and each of its states, the state before that it is best come to from
 * @param last state at the end
 */
export function wayBack(from: readonly Int32Array[], last: number): number[] {
  const states = [last];
  for (let n = from.length - 1; n >= 0; n--) states.push(from[n][states[states.length - 1]]);
  return states.reverse();
}

/** The place of the greatest value, the first of equal ones. */
export const likeliestOf = (values: Float64Array): number => values.indexOf(values.reduce((a, b) => Math.max(a, b)));

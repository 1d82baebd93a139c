/**
 * How a foot changes as weight comes on it, per cent of its unloaded measure: at half and at full body weight.
 *
 * @source Tsung 2003, J Rehabil Res Dev 40:517, casts of the same feet at three loads. Trust: seen.
 */
export const LOAD_CHANGE_PERCENT = {
  length: { half: 2.7, full: 3.4 },
  width: { half: 2.9, full: 6.0 },
  rearfootWidth: { half: 5.9, full: 8.7 },
  archHeight: { half: -15.4, full: -20.0 },
} as const;

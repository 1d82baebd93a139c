/** The picture that the network looks at: a square grid on the flat. */
export const PICTURE = {
  /** Cells a side. */
  size: 24,
  /** From cell to cell, mm. */
  step: 3,
} as const;

import type { StandingCast } from './standing-cast.js';

export const BEYOND_TOES = {
  /** Cells in which the thickness is taken: along the foot and across, mm; and how far back from the front they reach. */
  along: 2,
  across: 4,
  reach: 110,
  /** Thinner than this share of the cast's length is no toe: the thinnest toe of generated feet has 0.045. */
  thin: 0.038,
  /** Where the thickness falls to this share within so many mm, the toes end. */
  fall: 0.6,
  within: 8,
  /** The steps of toes of different length are not sought farther back than this, mm. */
  deepest: 70,
  /** How far behind the front a toe has that thickness, mm (generated feet of the tuning range: 0.3 to 3.3). */
  toeRounding: 1.5,
  /** Less than this beyond that is a toe's own form, mm. */
  least: 4,
  /** How far the place where the toes end is to be trusted, mm, and how much less with each mm of fold. */
  error: 3,
  errorPerLength: 0.15,
} as const;

export interface BeyondToes {
  /** Length of plaster ahead of the toes, mm; 0 where the toes' own form ends the cast. */
  readonly length: number;
  /** 95 % half-width, mm. */
  readonly uncertainty: number;
}

/**
 * How far plaster reaches ahead of the toes, as where an over-long bandage was folded over: a broad lip much thinner than
 * toes, and the step in thickness where they end.
 */
export function beyondToes(cast: StandingCast): BeyondToes {
  const { along, thin, fall, within, deepest, toeRounding, least, error, errorPerLength } = BEYOND_TOES;
  const thickness = thicknessFromFront(cast);
  const level = thin * cast.landmarks.footLength;
  let row = 0;
  while (row + 1 < thickness.length && thickness[row] < level) row++;
  const before = row === 0 ? 0 : thickness[row - 1];
  const thinEnd = along * (row - 0.5 + (level - before) / Math.max(1e-9, thickness[row] - before));
  let step = 0;
  const ahead = within / along;
  for (let r = 0; along * r < deepest && r + ahead < thickness.length; r++) {
    if (thickness[r] < fall * thickness[r + ahead]) step = along * (r + 0.5);
  }
  const length = Math.max(thinEnd - toeRounding, step);
  if (length < least) return { length: 0, uncertainty: error };
  return { length, uncertainty: error + errorPerLength * length };
}

/** The greatest thickness (z) between the front and each distance behind it, mm. */
function thicknessFromFront({ mesh: { positions: p }, landmarks }: StandingCast): Float64Array {
  const { along, across, reach } = BEYOND_TOES;
  const front = landmarks.toeTip[0];
  const rows = Math.floor(reach / along);
  const columns = 2 * Math.ceil(landmarks.footLength / 2 / across);
  const low = new Float64Array(rows * columns).fill(Infinity);
  const high = new Float64Array(rows * columns).fill(-Infinity);
  for (let i = 0; i < p.length; i += 3) {
    const row = Math.floor(Math.max(0, front - p[i]) / along);
    const column = Math.floor(p[i + 1] / across) + columns / 2;
    if (row >= rows || column < 0 || column >= columns) continue;
    const cell = row * columns + column;
    if (p[i + 2] < low[cell]) low[cell] = p[i + 2];
    if (p[i + 2] > high[cell]) high[cell] = p[i + 2];
  }
  const out = new Float64Array(rows);
  let most = 0;
  for (let row = 0; row < rows; row++) {
    for (let cell = row * columns; cell < (row + 1) * columns; cell++) most = Math.max(most, high[cell] - low[cell]);
    out[row] = most;
  }
  return out;
}

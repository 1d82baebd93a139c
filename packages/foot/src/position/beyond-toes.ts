import { ANSUR2_RATIOS } from '../published/ansur2.js';
import type { StandingCast } from './standing-cast.js';
import { frontSections } from './toe-front.js';

/** Set on generated casts of the tuning range: bare toes, toes pressed on a plate, toes lost in plaster, folds of bandage. */
export const BEYOND_TOES = {
  /** Cells in which the thickness is taken: along the foot and across, mm; and how far back from the front they reach. */
  along: 2,
  across: 4,
  reach: 110,
  /** A lip is so many times as broad as it is thick, this far behind the front (mm), and fills so much of its convex hull. */
  lipAt: 10,
  lipAspect: 3.9,
  lipSolidity: 0.94,
  /** It ends where the cast is thicker than this share of its length, or than the lip near its front by this factor. */
  thin: 0.038,
  thicker: 1.15,
  /** How far behind their own front toes have that thickness, mm. */
  toeRounding: 1.5,
  /** Toes show where a section between these distances behind the front (mm, share of foot length) fills less of its hull. */
  toesFrom: 6,
  toesTo: 0.15,
  toesSolidity: 0.945,
  /** How far the place where the toes end is to be trusted, mm: without a lip, with one, and how much less with each mm of it. */
  bareError: 2,
  error: 4,
  errorPerLength: 0.4,
  /** Doubt that stays where both are weighed, as a share of the length. */
  share: 0.25,
  /** The lip's length and the foot's proportions contradict each other where they differ by so many standard deviations. */
  contradict: 3,
  /** The same where toes seem to show: a foot may have a long toe, or marks have moved its ball. */
  contradictShown: 4.5,
  /** The doubt where the proportions alone are believed against what shows, as a share of the difference. */
  againstShown: 1 / 3,
  /** Plaster that hides the toes draws them in and moves the inside of the ball ahead: so much farther, mm, the foot's end may lie. */
  hiddenError: 10,
} as const;

/** Half-width of a 95 % interval in standard deviations. */
const WIDTH = 1.96;

export interface BeyondToes {
  /** Length of plaster ahead of the toes, mm; 0 where the toes' own form ends the cast. */
  readonly length: number;
  /** 95 % half-width, mm. */
  readonly uncertainty: number;
}

/**
 * How far plaster reaches ahead of the toes, as where an over-long bandage was folded over: a broad lip much thinner than
 * toes. Where it ends is read from its thickness and from the foot's proportions, each with the weight of its certainty.
 *
 * @returns null where neither toes nor a lip show, for then the surface does not tell where the toes end
 */
export function beyondToes(cast: StandingCast): BeyondToes | null {
  const { along, lipAt, lipAspect, lipSolidity, thin, thicker, toeRounding, toesFrom, toesTo, toesSolidity, bareError, contradictShown, error, errorPerLength } = BEYOND_TOES;
  const thickness = thicknessFromFront(cast);
  const fl = cast.landmarks.footLength;
  const nearFront = thickness[Math.floor(lipAt / along)];
  const [front] = frontSections(cast, [lipAt]);
  if (front !== undefined && front.breadth >= lipAspect * nearFront && front.solidity >= lipSolidity) {
    const level = Math.max(thin * fl, thicker * thickness[Math.floor((0.8 * lipAt) / along)]);
    const length = Math.max(0, distanceWhere(thickness, level) - toeRounding);
    return weighed({ length, uncertainty: error + errorPerLength * length }, beyondByProportion(cast));
  }
  const places: number[] = [];
  for (let d = toesFrom; d <= toesTo * fl; d += along) places.push(d);
  const toesShow = frontSections(cast, places).some(({ solidity }) => solidity < toesSolidity);
  if (!toesShow) return null;
  const shown = { length: 0, uncertainty: bareError };
  const proportion = beyondByProportion(cast);
  return proportion.length > 0 && contradict(shown, proportion, contradictShown) ? byProportion(proportion, shown) : shown;
}

/**
 * Grooves of a crumpled fold can look like those between toes, and a fold can be as thick as toes. Where the ball lies so far
 * back that hardly any foot could be as long as what shows says, the proportions are believed, with a doubt.
 */
const byProportion = ({ length, uncertainty }: BeyondToes, shown: BeyondToes): BeyondToes =>
  ({ length, uncertainty: Math.hypot(uncertainty, BEYOND_TOES.againstShown * (length - shown.length)) });

const contradict = (a: BeyondToes, b: BeyondToes, deviations: number): boolean =>
  Math.abs(a.length - b.length) * WIDTH > deviations * Math.hypot(a.uncertainty, b.uncertainty);

/** What the foot's proportions say of the plaster ahead of the toes: the inside of the ball lies at much the same share of every foot's length (ANSUR II). Less than nothing where the ball lies far ahead. */
function beyondByProportion({ landmarks: { footLength, medialBall } }: Pick<StandingCast, 'landmarks'>): BeyondToes {
  const { men, women } = ANSUR2_RATIOS;
  const share = (men.medialBallLengthToFL.mean + women.medialBallLengthToFL.mean) / 2;
  const sd = Math.max(men.medialBallLengthToFL.sd, women.medialBallLengthToFL.sd);
  const foot = medialBall[0] / share;
  return { length: footLength - foot, uncertainty: (WIDTH * sd * foot) / share };
}

/** The same under plaster that hides the toes, which makes it less sure. */
export function beyondWhereHidden(cast: Pick<StandingCast, 'landmarks'>): BeyondToes {
  const { length, uncertainty } = beyondByProportion(cast);
  return { length, uncertainty: Math.hypot(uncertainty, BEYOND_TOES.hiddenError) };
}

/**
 * Both by the weight of their certainty. Where they contradict each other the lip's alone with as much doubt, for the ball may
 * have been taken in the wrong place; but not where the lip is far too short.
 */
function weighed(lip: BeyondToes, proportion: BeyondToes): BeyondToes {
  const apart = lip.length - proportion.length;
  if (contradict(lip, proportion, BEYOND_TOES.contradict)) return apart < 0 ? byProportion(proportion, lip) : { length: lip.length, uncertainty: Math.hypot(lip.uncertainty, apart / 2) };
  const wl = 1 / lip.uncertainty ** 2;
  const wp = 1 / proportion.uncertainty ** 2;
  const length = Math.max(0, (wl * lip.length + wp * proportion.length) / (wl + wp));
  return { length, uncertainty: Math.hypot(1 / Math.sqrt(wl + wp), apart / 4, BEYOND_TOES.share * length) };
}

/** How far behind the front the thickness first reaches a level, mm. */
function distanceWhere(thickness: Float64Array, level: number): number {
  let row = 0;
  while (row + 1 < thickness.length && thickness[row] < level) row++;
  const before = row === 0 ? 0 : thickness[row - 1];
  const share = thickness[row] > before ? Math.min(1, (level - before) / (thickness[row] - before)) : 1;
  return BEYOND_TOES.along * (row - 0.5 + share);
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

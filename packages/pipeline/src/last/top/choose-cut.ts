import { standsOnLeg } from '@cast-to-last/foot/leg-end';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { CastError } from '../../errors.js';
import type { TopRules } from '../../rules/last-rules.js';
import type { LastBody } from '../last-body.js';
import { levelPlane, topLinePlane } from './top-plane.js';
import type { TopPlane } from './top-plane.js';

export interface TopCut {
  readonly plane: TopPlane;
  /** x of the top line's foremost point on the foot; null for a level cut. */
  readonly frontX: number | null;
  readonly warnings: readonly string[];
}

/** Whether the rules ask for more than a cut. */
export const isWorked = (top: TopRules): boolean => top.coneMm > 0 || top.thimble !== null || top.pins.length > 0 || top.label !== 'none' || top.stationMarks;

/** How far below the lowest point of the opening a body is cut that no rule says the height of, mm. */
const BELOW_THE_END = 0.5;

/**
 * Where the rules cut the body; null where they leave it as it ends.
 *
 * @throws CastError `top-too-low` where the cast ends below the cut, `top-line-too-steep`, `top-needs-height` where a closed
 * body shall get a flat top and no rule says where
 */
export function chooseCut(body: LastBody, { topHeightMm, top }: { readonly topHeightMm: number | null; readonly top: TopRules }): TopCut | null {
  const whole = wholeHeight(body);
  if (top.line !== null) {
    const { plane, frontX } = topLinePlane(body.mesh, top.line);
    const above = aboveTheEnd(body, plane);
    if (above > 0) throw lineTooHigh(above);
    return { plane, frontX, warnings: [] };
  }
  if (topHeightMm !== null) {
    if (whole < topHeightMm) throw tooLow(whole, topHeightMm);
    return { plane: levelPlane(topHeightMm), frontX: null, warnings: [] };
  }
  if (!isWorked(top)) return null;
  if (body.opening === null) throw needsHeight();
  const height = whole - BELOW_THE_END;
  return {
    plane: levelPlane(height),
    frontX: null,
    warnings: [`The rules name no height of the top: it is cut level at ${height.toFixed(1)} mm, where the cast is whole all round.`],
  };
}

/** The height up to which the body is whole all round, mm. */
export function wholeHeight({ mesh, opening, landmarks }: LastBody): number {
  if (opening === null) return standsOnLeg(mesh, landmarks.footLength) ?? bounds(mesh.positions)[5];
  return opening.reduce((lowest, v) => Math.min(lowest, mesh.positions[3 * v + 2]), Infinity);
}

/** How far, straight down, the opening's edge lies under the plane; 0 where it does not. */
function aboveTheEnd({ mesh: { positions: p }, opening }: LastBody, { normal: n, offset }: TopPlane): number {
  if (opening === null) return 0;
  return opening.reduce((most, v) => Math.max(most, (offset - n[0] * p[3 * v] - n[2] * p[3 * v + 2]) / n[2]), 0);
}

const tooLow = (whole: number, wanted: number): CastError =>
  new CastError(
    'top-too-low',
    `The cast is whole up to ${whole.toFixed(0)} mm above the rest plane, but the rules ask for a flat top at ${wanted} mm.`,
    'Lower last.topHeightMm in the rules, set it to null to close the cast where it ends, or cast higher.',
  );

const lineTooHigh = (above: number): CastError =>
  new CastError(
    'top-too-low',
    `The top line of the rules runs up to ${above.toFixed(0)} mm above the end of the cast.`,
    'Lower last.top.line.backMm or last.top.line.frontMm in the rules, or cast higher.',
  );

const needsHeight = (): CastError =>
  new CastError(
    'top-needs-height',
    "The scan's top is closed, and the rules ask for a flat top without saying where.",
    'Set last.topHeightMm or last.top.line in the rules.',
  );

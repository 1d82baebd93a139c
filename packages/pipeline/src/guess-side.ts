import type { Side } from '@cast-to-last/foot/side';
import type { SideSign } from '@cast-to-last/foot/side-evidence';
import { joinedNames } from './joined-names.js';
import type { RepairedCast, ScanKind } from './records.js';
import { ALIGN, standUp } from './stages/align.js';

/** Which foot a scan shows, as far as its shape tells. */
export interface SideGuess {
  /** Null where the shape shows neither. */
  readonly side: Side | null;
  /** Whether `align` would refuse the other side. */
  readonly sure: boolean;
  /** One or two sentences for who books the cast in. */
  readonly why: string;
}

export const GUESS_SIDE = {
  /** Mean evidence below this, either way, shows neither side; the scale is 0 to 1. */
  least: 0.08,
  /** A sign below this, in its own tolerances, speaks for neither. */
  leastSign: 0.15,
} as const;

const PLACES: Readonly<Record<SideSign['name'], string>> = {
  'toe tip': 'the toe tip', 'ball heads': 'the heads of the ball', 'outer border': 'the outer border', arch: 'the arch', 'top of the forefoot': 'the top of the forefoot',
};

/**
 * Tells left from right by shape alone, from any pose, by the signs that `align` holds a declared side against.
 *
 * @throws CastError `not-a-foot`
 */
export function guessSide(cast: RepairedCast, kind: ScanKind): SideGuess {
  // The pose is settled in the frame of an assumed side; both are asked, so that neither is favoured.
  const asRight = standUp(cast, 'right').signs;
  const asLeft = standUp(cast, 'left').signs;
  const forRight = (asRight.verdict + asLeft.verdict) / 2;
  if (Math.abs(forRight) < GUESS_SIDE.least) {
    return { side: null, sure: false, why: 'The shape does not tell left from right. Look at the label on the cast.' };
  }
  const side: Side = forRight > 0 ? 'right' : 'left';
  const signs = asRight.signs.map(({ name, value }, i) => ({ name, value: (value + asLeft.signs[i].value) / 2 }));
  const clear = Math.min(Math.abs(asRight.verdict), Math.abs(asLeft.verdict)) >= ALIGN.contradiction && asRight.verdict * asLeft.verdict > 0;
  if (kind === 'inside') {
    return { side, sure: false, why: `${saying(signs, side)} The inside of a shell may have been mirrored on its way out of the scanning program, so compare it with the label.` };
  }
  return { side, sure: clear, why: clear ? saying(signs, side) : `${saying(signs, side)} That is not clear enough to rely on; look at the label on the cast.` };
}

function saying(signs: readonly SideSign[], side: Side): string {
  const sign = side === 'right' ? 1 : -1;
  const named = (which: (value: number) => boolean): string[] => signs.filter(({ value }) => which(value * sign)).map(({ name }) => PLACES[name]);
  const speaking = named((v) => v >= GUESS_SIDE.leastSign);
  const against = named((v) => v <= -GUESS_SIDE.leastSign);
  const first = speaking.length === 0 ? `taken together, the shape is rather that of a ${side} foot` : `${joinedNames(speaking)} ${speaking.length === 1 ? 'is' : 'are'} as on a ${side} foot`;
  const text = against.length === 0 ? first : `${first}; ${joinedNames(against)} ${against.length === 1 ? 'speaks' : 'speak'} against it`;
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}

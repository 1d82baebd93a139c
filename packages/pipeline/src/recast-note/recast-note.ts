import { bedAngles } from '@cast-to-last/foot/footbed';
import { MOST_PICTURED } from '@cast-to-last/sheet/note/note-content';
import type { NoteContent, NoteFinding } from '@cast-to-last/sheet/note/note-content';
import type { CheckOutcome } from '../outcome.js';
import type { RuleSet } from '../rules/rules.js';
import type { Words } from './advice.js';
import { CASTING_CAUTIONS, CAUTION_SOURCES, CLOSING } from './casting-cautions.js';
import { chooseFindings } from './choose.js';
import type { ToldFinding } from './choose.js';
import { notePictures } from './pictures.js';

/** What the host puts on the note: nothing of the customer but the order's number. */
export interface NoteHeader {
  readonly orderNumber: string;
  /** ISO date; the note itself reads no clock. */
  readonly date: string | null;
}

/** All that the note to the customer says of a cast that has to be taken again. */
export function recastNote(outcome: Pick<CheckOutcome, 'check' | 'measured' | 'aligned' | 'casting' | 'rules'>, header: NoteHeader): NoteContent {
  const { check, measured, aligned, casting, rules } = outcome;
  const pictureOf = notePictures({
    mesh: measured.mesh, filled: aligned.filled, landmarks: measured.landmarks, side: aligned.side,
    heelPitch: casting.footbed === undefined ? 0 : bedAngles(casting.footbed).heelPitch,
  });
  return {
    paper: rules.sheet.paper,
    orderNumber: header.orderNumber,
    side: aligned.side,
    date: header.date,
    title: `Please cast your ${aligned.side} foot once more`,
    opening: [
      'Dear customer,',
      `Thank you for the cast of your ${aligned.side} foot. We have looked at it closely, and shoes made on it would not fit you. We would rather ask you for a ` +
        'new cast now than send you shoes that hurt. This is what we saw on your cast, and how to do it next time:',
    ],
    findings: chooseFindings(check).map(
      (told, i): NoteFinding => ({ ...wordsOf(told, rules), picture: i < MOST_PICTURED ? pictureOf(told.finding, told.reading) : null }),
    ),
    alsoTitle: 'We also saw:',
    cautionsTitle: 'When you cast again, take care of yourself',
    cautions: CASTING_CAUTIONS,
    closing: CLOSING,
    sources: CAUTION_SOURCES,
  };
}

function wordsOf({ finding, reading, advice }: ToldFinding, rules: RuleSet): Omit<NoteFinding, 'picture'> {
  const { value, unit, limit } = finding;
  const wanted = reading?.wanted ?? null;
  const below = value !== null && value < (wanted ?? 0);
  const text = (words: Words): string => (typeof words === 'string' ? words : words[below ? 1 : 0]).replaceAll('{aboveAnkle}', String(rules.check.aboveAnkleMm));
  // A ratio is weighed against a limit of its own, not against what is wanted.
  const asked = unit === '' ? limit : wanted;
  const [measuredFigure, wantedFigure] = plainFigures(value, asked, unit);
  const around = (words: Words | undefined, of: number | null, figure: string): string =>
    words === undefined || of === null ? '' : (typeof words === 'string' ? words : words[of < 0 ? 1 : 0]).replaceAll('#', figure);
  return {
    title: text(advice.title),
    next: text(advice.next),
    measured: around(advice.measured, value, measuredFigure),
    wanted: asked === 0 && advice.wantedNone !== undefined ? advice.wantedNone : around(advice.wanted, asked, wantedFigure),
  };
}

/**
 * Two figures as they are said, without signs: in whole degrees, millimetres and per cent; with a decimal where they are
 * small, or would be the same though they are not.
 */
export function plainFigures(a: number | null, b: number | null, unit: string): [string, string] {
  const share = unit === '' ? 100 : 1;
  const say = (value: number | null, least: number): string => {
    if (value === null) return '';
    const figure = share * Math.abs(value);
    const shown = Number(figure.toFixed(Math.max(least, figure < 10 ? 1 : 0)));
    return unit === 'deg' || unit === '°' ? `${shown}°` : `${shown}\u00a0${unit === '' ? '%' : unit}`;
  };
  for (let decimals = 0; ; decimals++) {
    const said: [string, string] = [say(a, decimals), say(b, decimals)];
    if (said[0] !== said[1] || a === null || b === null || Math.abs(a) === Math.abs(b) || decimals === 3) return said;
  }
}

import { bedAngles } from '@cast-to-last/foot/footbed';
import { MOST_PICTURED } from '@cast-to-last/sheet/note-content';
import type { NoteContent, NoteFinding } from '@cast-to-last/sheet/note-content';
import type { CheckOutcome } from '../outcome.js';
import type { Finding } from '../records.js';
import type { RuleSet } from '../rules.js';
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
  const { value, unit } = finding;
  const wanted = reading?.wanted ?? null;
  const below = value !== null && value < (wanted ?? 0);
  const text = (words: Words): string => (typeof words === 'string' ? words : words[below ? 1 : 0]).replaceAll('{aboveAnkle}', String(rules.check.aboveAnkleMm));
  const figure = (words: Words | undefined, of: number | null): string => {
    if (words === undefined || of === null) return '';
    return (typeof words === 'string' ? words : words[of < 0 ? 1 : 0]).replaceAll('#', plainFigure(Math.abs(of), unit));
  };
  // A ratio is weighed against a limit of its own, not against what is wanted.
  const asked = unit === '' ? finding.limit : wanted;
  return {
    title: text(advice.title),
    next: text(advice.next),
    measured: figure(advice.measured, value),
    wanted: asked === 0 && advice.wantedNone !== undefined ? advice.wantedNone : figure(advice.wanted, asked),
  };
}

/** A figure as it is said: whole degrees and millimetres, halves where it is small, a ratio in per cent. */
export function plainFigure(value: number, unit: Finding['unit']): string {
  if (unit === '') return `${Math.round(100 * value)}\u00a0%`;
  const shown = value < 10 ? Math.round(2 * value) / 2 : Math.round(value);
  return unit === 'deg' || unit === '°' ? `${shown}°` : `${shown}\u00a0${unit}`;
}

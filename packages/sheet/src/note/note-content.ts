import type { Paper, SheetLine } from '../measurement/content.js';

/**
 * Everything that stands on a recast note, one page for the customer. The page draws it and computes nothing of its own;
 * it only shows fewer pictures where there is not the room.
 */
export interface NoteContent {
  readonly paper: Paper;
  readonly orderNumber: string;
  readonly side: 'left' | 'right';
  /** ISO date, or null where the caller gives none. */
  readonly date: string | null;
  readonly title: string;
  readonly opening: readonly string[];
  /** Worst first. As many as the page has room for stand with their pictures, MOST_PICTURED at most; the others are listed. */
  readonly findings: readonly NoteFinding[];
  readonly alsoTitle: string;
  readonly cautionsTitle: string;
  readonly cautions: readonly string[];
  readonly closing: readonly string[];
  /** Where the figures in the cautions come from. */
  readonly sources: string;
}

/** Findings that the page shows with their pictures; more would be too small to be read. */
export const MOST_PICTURED = 4;

export interface NoteFinding {
  readonly title: string;
  /** What to do differently next time. */
  readonly next: string;
  /** Words beside the lines of the picture; '' for none. */
  readonly measured: string;
  readonly wanted: string;
  /** Null where there is none to show; beyond the first MOST_PICTURED none is looked at. */
  readonly picture: NotePicture | null;
}

/** The cast seen from one side; mm of the cast, right and up on the paper. */
export interface NotePicture {
  /** From where it is seen. */
  readonly title: string;
  readonly outline: readonly SheetLine[];
  readonly contours: readonly SheetLine[];
  /** Closed lines round the parts of the surface that are meant. */
  readonly patches: readonly SheetLine[];
  readonly measured: readonly SheetLine[];
  readonly wanted: readonly SheetLine[];
  /** Rings round these places. */
  readonly places: readonly (readonly [number, number])[];
}

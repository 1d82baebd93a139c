import { drawNote } from '@cast-to-last/sheet/note/draw-note';
import type { CheckOutcome } from '../outcome.js';
import { recastNote } from '../recast-note/recast-note.js';
import type { NoteHeader } from '../recast-note/recast-note.js';

/** draw-note: the recast note of a cast as a PDF of one page. */
export const drawRecastNote = (outcome: CheckOutcome, header: NoteHeader): Promise<Uint8Array> => drawNote(recastNote(outcome, header));

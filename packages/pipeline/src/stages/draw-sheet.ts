import { drawSheet } from '@cast-to-last/sheet/draw-sheet';
import type { CastOutcome } from '../outcome.js';
import { sheetContent } from '../sheet-content.js';
import type { SheetHeader } from '../sheet-content.js';

/** draw-sheet: the measurement sheet of an outcome as a PDF. */
export const drawCastSheet = (outcome: CastOutcome, header: SheetHeader): Promise<Uint8Array> => drawSheet(sheetContent(outcome, header));

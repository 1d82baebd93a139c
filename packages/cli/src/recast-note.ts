import type { CheckOutcome } from '@cast-to-last/pipeline/outcome';
import type { NoteHeader } from '@cast-to-last/pipeline/recast-note/recast-note';
import type { Progress } from './progress.js';

/** The note to the customer where the cast has to be taken again, else null. What draws it, and the stages, are loaded only then. */
export async function noteIfRecast(outcome: CheckOutcome, header: NoteHeader, { step, stages }: Progress): Promise<Uint8Array | null> {
  if (outcome.check.verdict !== 'recast') return null;
  const { drawNoteKey } = await import('@cast-to-last/pipeline/pipeline');
  return step('draw-note', drawNoteKey(stages.map((s) => s.key), outcome.rules, header), async () => {
    const { drawRecastNote } = await import('@cast-to-last/pipeline/stages/draw-note');
    return drawRecastNote(outcome, header);
  });
}

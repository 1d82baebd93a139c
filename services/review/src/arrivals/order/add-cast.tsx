import { useState } from 'preact/hooks';
import type { Side } from '@cast-to-last/foot/side';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { ArrivalInputs } from '../booking/arrival-part.js';
import { addCast } from '../booking/book-in.js';
import type { ArrivalDraft } from '../booking/draft.js';

export interface AddCastProps {
  readonly orderId: string;
  readonly side: Side;
  /** The cast that it comes in place of. */
  readonly recastOfId?: string;
  readonly done: () => Promise<void>;
}

/** Books in a cast that is not there yet: a side that is ordered, or a new one in place of one that could not be used. */
export function AddCast({ orderId, side, recastOfId, done }: AddCastProps) {
  const [arrival, setArrival] = useState<ArrivalDraft>({ here: true, damp: false, hours: '24', how: 'in the air, standing free' });
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const book = async (): Promise<void> => {
    try {
      await addCast(orderId, side, arrival, recastOfId);
      await done();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  return (
    <section class="board form-part" aria-label={`Book in the ${side} cast`}>
      <h3>{recastOfId === undefined ? `The ${side} cast is not booked in` : `The new ${side} cast`}</h3>
      <ArrivalInputs arrival={arrival} change={setArrival} />
      <ProblemBox problem={problem} />
      <div class="buttons"><button type="button" class="push chief" onClick={() => void book()}>Book in the {recastOfId === undefined ? '' : 'new '}{side} cast</button></div>
    </section>
  );
}

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Profile } from '../../parts/geometry/calls.js';
import type { BenchWork } from '../order/bench-work.js';
import { decideMark } from '../order/decided-marks.js';
import type { DecidedMark } from '../order/decided-marks.js';
import type { Foot } from '../order/foot.js';
import { mm, signedMm } from '../order/words.js';
import { CloseUps } from './close-ups.js';
import { ProfileDrawing } from './profile-drawing.js';

export interface MarkDetailProps {
  readonly work: BenchWork;
  readonly foot: Foot;
  readonly mark: DecidedMark;
  readonly mayDecide: boolean;
  readonly decide: (decision: 'smooth' | 'keep') => () => void;
}

/** How far the line across a mark reaches beyond its middle, mm. */
const reachOf = (mark: DecidedMark): number => Math.max(14, Math.min(32, 0.5 * mark.width + 12));

/** One mark near by: before and after, the line across it, what it is, and what becomes of it. */
export function MarkDetail({ work, foot, mark, mayDecide, decide }: MarkDetailProps) {
  const profile = useSignal<Profile | null>(null);
  const note = useSignal(mark.word?.note ?? '');
  const side = foot.side;
  const ready = work.full.value.has(`${side}:scan`) && work.full.value.has(`${side}:cleaned`);
  const version = work.bodies.value[side];
  useEffect(() => {
    void work.needFull(foot, 'scan');
    let current = true;
    if (ready) void work.thread.ask('profile', { before: `${side}:scan`, after: `${side}:cleaned`, at: mark.centre, along: [0, 1, 0], reach: reachOf(mark) }).then((found) => current && (profile.value = found), () => undefined);
    return () => {
      current = false;
    };
  }, [mark.id, ready, version]);
  const keepNote = (): void => {
    if (mark.word !== null && note.value !== (mark.word.note ?? '')) foot.decide(decideMark(foot.decisions.value, mark, mark.word.decision, note.value));
  };
  return (
    <section class="mark-detail" aria-label={`Mark ${mark.number} of the ${side} cast`}>
      <p class="title"><strong>{mark.kind} {mark.number}</strong> <span class="quiet">{side}, {mm(mark.centre[0], 0)} mm from the heel</span></p>
      <p>{mark.why}</p>
      <CloseUps work={work} foot={foot} mark={mark} version={version} ready={ready} />
      {profile.value !== null && <ProfileDrawing profile={profile.value} reach={reachOf(mark)} />}
      <dl class="facts">
        <div><dt>depth</dt><dd>{signedMm(mark.depth, 2)} mm</dd></div>
        <div><dt>size</dt><dd>{mm(mark.length)} × {mm(mark.width)} mm</dd></div>
        <div><dt>area</dt><dd>{mm(mark.area, 0)} mm²</dd></div>
      </dl>
      {mayDecide && (
        <>
          <div class="decide" role="group" aria-label="What becomes of it">
            <button type="button" class="push" aria-pressed={mark.now === 'smooth'} onClick={decide('smooth')}><kbd>S</kbd>smooth</button>
            <button type="button" class="push" aria-pressed={mark.now === 'keep'} onClick={decide('keep')}><kbd>K</kbd>keep</button>
          </div>
          <label class="mark-note">Note <input type="text" maxLength={500} value={note.value} placeholder={mark.word === null ? 'after a decision' : ''} disabled={mark.word === null} onInput={(event) => void (note.value = event.currentTarget.value)} onChange={keepNote} /></label>
        </>
      )}
    </section>
  );
}

import type { Side } from '@cast-to-last/foot/side';
import { remedyOf } from '../../parts/remedy-of.js';
import { bookTo, pause, send } from './send.js';
import { change, files, giveUp, putAway } from './uploads.js';
import type { Upload } from './uploads.js';

export interface UploadLineProps {
  readonly upload: Upload;
  /** The newest cast of each side that may be meant. */
  readonly casts: readonly { readonly id: string; readonly side: Side }[];
}

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;

const SAYS: Readonly<Record<Upload['state'], string>> = {
  reading: 'being read', sending: 'on its way', paused: 'paused', 'no-line': 'no connection; it goes on by itself', asking: 'looking which foot it is', 'which-side': 'which foot is it?', finishing: 'being booked in', stopped: 'not taken', done: 'is there',
};

/** One scan on its way: how far, and what can be done with it. */
export function UploadLine({ upload, casts }: UploadLineProps) {
  const { key, fileName, size, received, state, guess, problem, told } = upload;
  const share = Math.floor((100 * received) / size);
  const lost = !files.has(key) && state === 'paused';
  return (
    <li class={`upload-line is-${state}`}>
      <div class="upload-head">
        <strong class="file-name">{fileName}</strong>
        <span class="quiet small">{megabytes(size)}</span>
        <span role="status">{SAYS[state]}{['sending', 'paused', 'no-line'].includes(state) ? `, ${share} %` : ''}</span>
        <span class="buttons">
          {['sending', 'no-line', 'reading'].includes(state) && <button type="button" class="push" onClick={() => pause(key)}>Pause</button>}
          {state === 'paused' && !lost && <button type="button" class="push" onClick={() => void send(key)}>Go on</button>}
          {state === 'no-line' && <button type="button" class="push" onClick={() => void send(key)}>Try now</button>}
          {state === 'stopped' && <button type="button" class="push" onClick={() => void send(key)}>Try again</button>}
          {state === 'done' ? <button type="button" class="push" onClick={() => putAway(key)}>Put away</button> : <button type="button" class="push" onClick={() => void giveUp(key)}>Give up</button>}
        </span>
      </div>
      {['sending', 'paused', 'no-line'].includes(state) && <progress class="upload-bar" max={size} value={received} aria-label={`${fileName}: ${share} % sent`} />}
      {lost && (
        <label class="choose-again">Choose the file again to go on
          <input type="file" onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            if (file === undefined) return;
            if (file.size !== size) return void change(key, { told: 'That is another file: its size differs.' });
            files.set(key, file);
            void send(key);
          }} />
        </label>
      )}
      {problem !== null && <p class="problem" role="alert"><strong>{problem.message}</strong> {remedyOf(problem)}</p>}
      {state === 'which-side' && (
        <div class="which-side">
          <p>{guess?.why ?? 'If you know the foot from the label, book it in all the same.'}</p>
          {casts.map(({ id, side }) => <button key={id} type="button" class={`push${guess?.side === side ? ' chief' : ''}`} onClick={() => void bookTo(key, id)}>It is the {side} foot</button>)}
        </div>
      )}
      {told !== null && <p class="quiet small">{told}</p>}
    </li>
  );
}

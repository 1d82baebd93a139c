import { BODIES } from './bodies.js';
import type { BenchWork } from './bench-work.js';
import { useKeys } from './keys.js';
import type { BodyName } from '../scene/foot-stand.js';

/** What is shown of the feet, and against what. */
export function SceneBar({ work }: { readonly work: BenchWork }) {
  const display = work.display.value;
  const set = (change: Partial<typeof display>): void => void (work.display.value = { ...work.display.value, ...change });
  const choose = (body: BodyName): void => set({ body, against: display.against === body ? null : display.against });
  const swap = (): void => {
    if (display.against !== null) set({ body: display.against, against: display.body });
  };
  useKeys({
    q: () => choose('scan'), w: () => choose('cleaned'), e: () => choose('last'),
    x: swap,
  });
  return (
    <div class="scene-bar">
      <div class="group" role="group" aria-label="Shown">
        {BODIES.map(({ name, word, key }) => (
          <button type="button" key={name} class="flat" aria-pressed={display.body === name} onClick={() => choose(name)}><kbd>{key}</kbd>{word}</button>
        ))}
      </div>
      <div class="group" role="group" aria-label="Laid against it">
        <label class="small" for="against">against</label>
        <select id="against" value={display.against ?? ''} onChange={(event) => set({ against: (event.currentTarget.value || null) as BodyName | null })}>
          <option value="">nothing</option>
          {BODIES.filter(({ name }) => name !== display.body).map(({ name, word }) => <option key={name} value={name}>{word}</option>)}
        </select>
        {display.against !== null && (
          <>
            <button type="button" class="flat" aria-pressed={display.how === 'faded'} onClick={() => set({ how: 'faded' })}>faded</button>
            <button type="button" class="flat" aria-pressed={display.how === 'wiped'} onClick={() => set({ how: 'wiped' })}>wiped</button>
            <button type="button" class="flat" onClick={swap}><kbd>X</kbd>change both</button>
            <input type="range" min="0" max="1" step="0.01" value={display.amount} aria-label={display.how === 'faded' ? 'How much of it is seen' : 'Where the edge stands, from heel to toes'} onInput={(event) => set({ amount: Number(event.currentTarget.value) })} />
          </>
        )}
      </div>
    </div>
  );
}

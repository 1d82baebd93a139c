import type { BenchWork } from './bench-work.js';
import { useKeys } from './keys.js';

/** What is drawn on and round the feet beside their surfaces, each on wish. */
export function DrawnKeys({ work }: { readonly work: BenchWork }) {
  const display = work.display.value;
  const drawn = work.drawn.value;
  const change = (): void => void (work.display.value = { ...display, change: !display.change });
  const ground = (): void => void (work.display.value = { ...display, ground: !display.ground });
  const flip = (name: keyof typeof drawn) => (): void => void (work.drawn.value = { ...drawn, [name]: !drawn[name] });
  const all = [
    { key: 'C', word: 'change', on: display.change, run: change },
    { key: 'G', word: 'ground of marks', on: display.ground, run: ground },
    { key: 'T', word: 'tapes', on: drawn.tapes, run: flip('tapes') },
    { key: 'M', word: 'lengths, widths', on: drawn.lengths, run: flip('lengths') },
    { key: 'L', word: 'section', on: drawn.section, run: flip('section') },
    { key: 'F', word: 'foot frame', on: drawn.frame, run: flip('frame') },
    { key: 'B', word: 'footbed', on: drawn.footbed, run: flip('footbed') },
  ];
  useKeys(Object.fromEntries(all.map(({ key, run }) => [key.toLowerCase(), run])));
  return (
    <div class="edge right" role="group" aria-label="Drawn">
      {all.map(({ key, word, on, run }) => <button type="button" key={key} class="flat" aria-pressed={on} onClick={run}><kbd>{key}</kbd>{word}</button>)}
    </div>
  );
}

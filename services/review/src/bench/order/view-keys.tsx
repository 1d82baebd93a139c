import { STANDARD_VIEWS } from '../scene/standard-views.js';
import type { Stage } from '../scene/stage.js';

/** The standard views with the keys that call them. */
export function ViewKeys({ stage }: { readonly stage: Stage }) {
  return (
    <div class="edge left" role="group" aria-label="Views">
      {STANDARD_VIEWS.map(({ key, name, look }) => (
        <button type="button" key={key} class="flat" onClick={() => stage.turnTo({ ...look, near: 1, shift: [0, 0] }, false)}><kbd>{key}</kbd>{name}</button>
      ))}
    </div>
  );
}

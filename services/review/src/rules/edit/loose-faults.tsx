import { withValue } from '../lines.js';
import type { Json } from '../lines.js';

/** What is wrong in a place that is no rule: keys of a file that this program does not know. */
export function LooseFaults({ faults, content, onChange }: {
  readonly faults: readonly { readonly path: string; readonly message: string }[]; readonly content: Json; readonly onChange: (content: Json) => void;
}) {
  if (faults.length === 0) return null;
  const unknown = faults.filter(({ message }) => message === 'no such key');
  return (
    <div class="problem" role="alert">
      <p><strong>Some keys are no rules of this program.</strong></p>
      <ul>{faults.map(({ path, message }) => <li key={path}>{path}: {message}</li>)}</ul>
      {unknown.length > 0 && <button type="button" class="push" onClick={() => onChange(unknown.reduce((left, { path }) => withValue(left, path.split(/[.[\]]+/).filter(Boolean), undefined), content))}>Leave these keys out</button>}
    </div>
  );
}

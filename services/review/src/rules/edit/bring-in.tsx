import { useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { rulesSchema } from '../../server/rules.js';
import { filledIn } from '../defaults.js';
import { keepDraft } from './draft.js';

const MOST_BYTES = 1e6;

/** Takes the rules of a JSON file up as what is being written, to be looked at and saved as a version. */
export function BringIn({ onto }: { readonly onto: string }) {
  const input = useRef<HTMLInputElement>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const { route } = useLocation();
  const take = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setWrong(null);
    try {
      if (file.size > MOST_BYTES) throw new Error('is too large for a file of rules');
      const content: unknown = JSON.parse(await file.text());
      if (typeof content !== 'object' || content === null || Array.isArray(content)) throw new Error('holds no rules: it must be one JSON object');
      const { name, version: _version, ...rest } = content as Record<string, unknown>;
      const { name: _name, version: _number, ...filled } = filledIn(await rulesSchema(), rest) as Record<string, unknown>;
      keepDraft(onto, { name: typeof name === 'string' && name !== '' ? name : 'house rules', content: filled, note: '', file: file.name });
      route(`/rules/${onto}/change`);
    } catch (error) {
      setWrong(`${file.name} ${error instanceof SyntaxError ? 'is no JSON file' : (error as Error).message}. Choose another one, or mend it in a text editor.`);
    } finally {
      if (input.current !== null) input.current.value = '';
    }
  };
  return (
    <div class="bring-in">
      <button type="button" class="push" onClick={() => input.current?.click()}>Bring in a file</button>
      <input ref={input} type="file" accept=".json,application/json" hidden aria-label="File of rules" onChange={(event) => void take((event.target as HTMLInputElement).files?.[0])} />
      {wrong !== null && <p class="fault" role="alert">{wrong}</p>}
    </div>
  );
}

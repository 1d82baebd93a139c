import { useRef, useState } from 'preact/hooks';
import { useKeys } from '../parts/keys.js';
import type { Room, RuleLine } from './lines.js';

/** The rooms with those rules alone that `keeps` keeps. */
export const roomsWith = (rooms: readonly Room[], keeps: (line: RuleLine) => boolean): Room[] =>
  rooms.map((room) => ({ ...room, groups: room.groups.map((group) => ({ ...group, lines: group.lines.filter(keeps) })).filter(({ lines }) => lines.length > 0) })).filter(({ groups }) => groups.length > 0);

/** Whether a rule has all these words in its room, name or description. */
function hasWords({ keys, schema: { title = '', description = '' } }: RuleLine, words: readonly string[]): boolean {
  const text = `${keys.join(' ')} ${title} ${description}`.toLowerCase();
  return words.every((word) => text.includes(word));
}

export interface SoughtRules {
  readonly keeps: (line: RuleLine) => boolean;
  readonly input: preact.JSX.Element;
}

/** A field by which rules are found; `/` leads to it. */
export function useSoughtRules(): SoughtRules {
  const [text, setText] = useState('');
  const input = useRef<HTMLInputElement>(null);
  useKeys('Rules', [{ press: '/', says: 'find a rule', run: () => input.current?.select() }]);
  const words = text.toLowerCase().split(/\s+/).filter((word) => word !== '');
  return {
    keeps: (line) => hasWords(line, words),
    input: <label class="find-rule"><span class="unseen">Find a rule</span><input ref={input} type="search" placeholder="Find a rule" value={text} onInput={(event) => setText((event.target as HTMLInputElement).value)} /></label>,
  };
}

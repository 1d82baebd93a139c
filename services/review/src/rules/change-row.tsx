import type { RuleChange } from './lines.js';
import { RulePicture } from './pictures/rule-picture.js';
import { Sentences } from './said.js';
import { say } from './words/sentence.js';

/** The name of a rule, with that of the kind of footwear where it is of one. */
export const nameOf = ({ line: { keys, schema } }: Pick<RuleChange, 'line'>): string =>
  keys[1] === 'disciplines' ? `${keys[2]}: ${schema.title}` : (schema.title ?? keys.join('.'));

/** One rule in two forms, side by side. */
export function ChangeRow({ change }: { readonly change: RuleChange }) {
  const { line, from, to } = change;
  return (
    <li class="change-row">
      <div class="change-name"><RulePicture of={line.pattern} /><h3>{nameOf(change)}</h3></div>
      <div class="was"><span class="unseen">was: </span><Sentences said={say(line, from)} /></div>
      <div class="becomes"><span class="unseen">becomes: </span><Sentences said={say(line, to)} /></div>
    </li>
  );
}

import { RulePicture } from './pictures/rule-picture.js';
import { Sentences } from './said.js';
import { valueAt } from './lines.js';
import type { Json, RuleLine } from './lines.js';
import { say } from './words/sentence.js';

/** One rule as it is read: picture, name, and what it says. `own`: it is not the program's default. */
export function RuleRow({ line, content, own }: { readonly line: RuleLine; readonly content: Json; readonly own: boolean }) {
  return (
    <li class={own ? 'rule own' : 'rule'}>
      <RulePicture of={line.pattern} />
      <div>
        <h4>{line.schema.title}</h4>
        <Sentences said={say(line, valueAt(content, line.keys))} />
      </div>
    </li>
  );
}

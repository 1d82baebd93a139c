import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { Field } from '../../parts/field.js';
import { counted } from '../../parts/figures.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { addRules } from '../../server/rules.js';
import type { RulesVersion } from '../../server/rules.js';
import { nameOf } from '../change-row.js';
import type { RuleChange } from '../lines.js';
import { Sentence } from '../said.js';
import { say } from '../words/sentence.js';
import { dropDraft } from './draft.js';
import type { Draft } from './draft.js';

export interface SaveBoardProps {
  readonly base: RulesVersion;
  /** Whether new scans are worked by the base: saving the same again would say nothing. */
  readonly inUse: boolean;
  readonly draft: Draft;
  readonly changes: readonly RuleChange[];
  readonly faultCount: number;
  readonly checking: boolean;
  readonly change: (draft: Partial<Draft>) => void;
  readonly onTry: () => void;
  /** Takes the newest version as what the changes are made to. */
  readonly onMoved: (newestNumber: number) => void;
}

/** What was changed, why, and the way to a new version or to a trial. */
export function SaveBoard({ base, inUse, draft, changes, faultCount, checking, change, onTry, onMoved }: SaveBoardProps) {
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  const { route } = useLocation();
  const nothing = inUse && changes.length === 0 && draft.name === base.name;
  const whyNot = faultCount > 0 ? `${counted(faultCount, 'rule')} cannot stand as ${faultCount === 1 ? 'it is' : 'they are'}.` : draft.note.trim() === '' ? 'Say why in the note.' : null;
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    setBusy(true);
    setProblem(null);
    try {
      const { body } = await addRules({ name: draft.name, content: draft.content, note: draft.note.trim(), ...(!base.trial && { basedOn: base.id }) });
      dropDraft(base.id);
      route(`/rules/${body.id}`);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  };
  const newest = (problem?.more.current as { number?: number } | undefined)?.number;
  return (
    <form class="board save-board" onSubmit={(event) => void save(event)} aria-label="The new version">
      <h2>The new version</h2>
      {draft.file !== undefined && <p class="quiet">From the file {draft.file}</p>}
      <section aria-label="Changes">
        <h3>{changes.length === 0 ? 'Nothing is changed yet' : counted(changes.length, 'change')}</h3>
        <ol class="changes">
          {changes.map((one) => (
            <li key={one.line.keys.join('.')}>
              <button type="button" onClick={() => show(one)}>{nameOf(one)}</button>
              <p class="was"><span class="unseen">was: </span><Sentence said={say(one.line, one.from).flat()} /></p>
              <p class="becomes"><span class="unseen">becomes: </span><Sentence said={say(one.line, one.to).flat()} /></p>
            </li>
          ))}
        </ol>
      </section>
      <Field label="Name of the rules">{(tie) => <input {...tie} value={draft.name} maxLength={80} required onInput={(event) => change({ name: (event.target as HTMLInputElement).value })} />}</Field>
      <Field label="Why" hint="Kept with the version; everyone sees it">
        {(tie) => <textarea {...tie} rows={3} maxLength={2000} value={draft.note} onInput={(event) => change({ note: (event.target as HTMLTextAreaElement).value })} />}
      </Field>
      <ProblemBox problem={problem} />
      {problem?.code === 'changed-meanwhile' && newest !== undefined && <button type="button" class="push" onClick={() => onMoved(newest)}>Put my changes onto version {newest}</button>}
      {faultCount > 0 && <button type="button" class="push" onClick={() => reveal(document.querySelector('.rule.bad'))}>Show what has to be mended</button>}
      <div class="pushes">
        <button type="button" class="push" disabled={faultCount > 0 || checking} onClick={onTry}>Try on casts</button>
        <button class="push chief" disabled={busy || checking || whyNot !== null || (nothing && !base.trial)}>Save the version</button>
      </div>
      <p class="quiet small" role="status">{whyNot ?? (nothing ? 'Saving is for changes.' : 'New scans will be worked by it. Casts that are there stay as they are.')}</p>
    </form>
  );
}

const show = ({ line }: RuleChange): void => reveal(document.querySelector(`[data-rule="${CSS.escape(line.keys.join('.'))}"]`));

function reveal(row: Element | null): void {
  row?.scrollIntoView({ block: 'center' });
  row?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
}

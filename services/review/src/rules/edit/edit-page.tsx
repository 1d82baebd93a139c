import { useEffect, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { ProblemBox } from '../../parts/problem-box.js';
import { useLoaded } from '../../parts/use-loaded.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { checkRules, listRules, readRules, rulesSchema } from '../../server/rules.js';
import type { RuleSchema } from '../../server/rule-schema.js';
import type { RulesChecked, RulesVersion } from '../../server/rules.js';
import { isAtLeast } from '../../server/session.js';
import { changesBetween, faultsAt, linesOf, roomsOf, withValue } from '../lines.js';
import type { Json } from '../lines.js';
import { roomsWith, useSoughtRules } from '../find-rules.js';
import { RoomSections } from '../room-sections.js';
import { RoomsNav } from '../rooms-nav.js';
import { dropDraft, keepDraft, keptDraft } from './draft.js';
import type { Draft } from './draft.js';
import { EditRow } from './edit-row.js';
import { FootwearKinds } from './footwear-kinds.js';
import { LooseFaults } from './loose-faults.js';
import { SaveBoard } from './save-board.js';
import { TryOn } from './try-on.js';

/** Changes a version into a new one. What is written is kept by the browser until it is saved or dropped. */
export function EditPage({ id }: { readonly id: string }) {
  const { value, problem } = useLoaded(async () => {
    const [schema, base, all] = await Promise.all([rulesSchema(), readRules(id), listRules()]);
    return { schema, base, inUse: all.items[0]?.id === id };
  }, [id]);
  if (!isAtLeast('maker')) return <main class="rules"><h1>Rules</h1><p class="empty">Only a maker changes rules. <a href={`/rules/${id}`}>Read them.</a></p></main>;
  if (value === undefined) return <main class="rules"><h1>Change the rules</h1><ProblemBox problem={problem} />{problem === null && <p role="status">One moment …</p>}</main>;
  return <Editor {...value} />;
}

const CHECK_AFTER_MS = 200;

/** What the service says of the content, asked again a moment after each change. */
function useChecked(content: Json, name: string): { readonly checked: RulesChecked | null; readonly checking: boolean; readonly problem: ServerProblem | null } {
  const [state, setState] = useState<{ of: Json; checked: RulesChecked | null; problem: ServerProblem | null }>({ of: null, checked: null, problem: null });
  useEffect(() => {
    const stop = new AbortController();
    const wait = setTimeout(() => {
      checkRules({ ...(content as object), name: name === '' ? 'unnamed' : name }, stop.signal).then(
        (checked) => setState({ of: content, checked, problem: null }),
        (error: unknown) => !stop.signal.aborted && setState({ of: content, checked: null, problem: problemOf(error) }),
      );
    }, CHECK_AFTER_MS);
    return () => {
      clearTimeout(wait);
      stop.abort();
    };
  }, [content, name]);
  return { checked: state.checked, checking: state.of !== content, problem: state.problem };
}

const withoutName = ({ name: _name, version: _version, ...rules }: RulesVersion['content']): Json => rules;

function Editor({ schema, base, inUse }: { readonly schema: RuleSchema; readonly base: RulesVersion; readonly inUse: boolean }) {
  const was = useRef(withoutName(base.content)).current;
  const fresh: Draft = { name: base.trial ? base.content.name : base.name, content: was, note: '' };
  const [draft, setDraft] = useState<Draft>(() => keptDraft(base.id) ?? fresh);
  const [trying, setTrying] = useState(false);
  const { route } = useLocation();
  const sought = useSoughtRules();
  const { checked, checking, problem } = useChecked(draft.content, draft.name);
  const change = (given: Partial<Draft>): void => {
    const next = { ...draft, ...given };
    setDraft(next);
    keepDraft(base.id, next);
  };
  const rooms = roomsOf(schema, draft.content, was);
  const changes = changesBetween(rooms, was, draft.content);
  const shown = roomsWith(rooms, sought.keeps);
  const changedLines = new Set(changes.map(({ line }) => line.keys.join('.')));
  const faults = checked?.faults ?? [];
  const lines = linesOf(rooms);
  const loose = faults.filter((fault) => !lines.some((line) => faultsAt(line, [fault]).length > 0));
  const drop = (): void => {
    dropDraft(base.id);
    setDraft(fresh);
  };
  const moveOnto = async (): Promise<void> => {
    const newest = (await listRules()).items.find(({ name }) => name === base.name);
    if (newest === undefined) return;
    const { content } = await readRules(newest.id);
    keepDraft(newest.id, { ...draft, content: changes.reduce<Json>((onto, { line, to }) => withValue(onto, line.keys, to), withoutName(content)) });
    dropDraft(base.id);
    route(`/rules/${newest.id}/change`);
  };
  const begun = (batchId: string): void => {
    // So that the trial leads back to what is being written.
    sessionStorage.setItem(`trial ${batchId}`, base.id);
    route(`/batches/${batchId}`);
  };
  return (
    <main class="rules with-rooms with-board">
      <RoomsNav rooms={rooms} told={({ key }) => told(changes.filter(({ line }) => line.keys[0] === key).length, faults.some(({ path }) => path.startsWith(`${key}.`)))} />
      <div class="rooms">
        <p><a href={`/rules/${base.id}`}>Back to {base.trial ? 'what was tried' : `${base.name}, version ${base.number}`}</a></p>
        <div class="page-head">
          <h1>Change {base.trial ? `what was tried of ${base.content.name}` : base.name}</h1>
          <div class="pushes">{sought.input}<button type="button" class="push" disabled={changes.length === 0 && draft.note === ''} onClick={drop}>Drop all changes</button></div>
        </div>
        <ProblemBox problem={problem} />
        <LooseFaults faults={loose} content={draft.content} onChange={(content) => change({ content })} />
        {shown.length === 0 && <p class="empty">No rule has these words.</p>}
        <RoomSections
          rooms={shown}
          row={(line) => (
            <EditRow
              key={line.keys.join('.')} line={line} content={draft.content} was={was} changed={changedLines.has(line.keys.join('.'))} faults={faultsAt(line, faults)}
              onChange={(value) => change({ content: withValue(draft.content, line.keys, value) })}
            />
          )}
          after={({ key }) => key === 'check' && <FootwearKinds schema={schema} content={draft.content} onChange={(content) => change({ content })} />}
        />
      </div>
      <SaveBoard
        base={base} inUse={inUse} draft={draft} changes={changes} faultCount={faults.length} checking={checking} change={change}
        onTry={() => setTrying(true)} onMoved={() => void moveOnto()}
      />
      {trying && <TryOn content={{ ...(draft.content as object), name: draft.name }} onEnd={() => setTrying(false)} onBegun={(batchId) => begun(batchId)} />}
    </main>
  );
}

const told = (changed: number, bad: boolean): string | null => (bad ? '! to mend' : changed > 0 ? `${changed} changed` : null);

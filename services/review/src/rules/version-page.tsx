import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { Field } from '../parts/field.js';
import { counted } from '../parts/figures.js';
import { time } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { saveAs } from '../parts/save-as.js';
import { useLoaded } from '../parts/use-loaded.js';
import { listRules, readRules, rulesSchema } from '../server/rules.js';
import type { RuleSchema } from '../server/rule-schema.js';
import type { RulesListed, RulesVersion } from '../server/rules.js';
import { isAtLeast } from '../server/session.js';
import { defaultsOf } from './defaults.js';
import { changesBetween, roomsOf } from './lines.js';
import { keepDraft } from './edit/draft.js';
import { roomsWith, useSoughtRules } from './find-rules.js';
import { RoomSections } from './room-sections.js';
import { RoomsNav } from './rooms-nav.js';
import { RuleRow } from './rule-row.js';

/** One version, read room by room in plain words. */
export function VersionPage({ id }: { readonly id: string }) {
  const { value, problem } = useLoaded(async () => {
    const [schema, version, all] = await Promise.all([rulesSchema(), readRules(id), listRules()]);
    return { schema, version, all: all.items };
  }, [id]);
  if (value === undefined) return <main class="rules"><h1>Rules</h1><ProblemBox problem={problem} />{problem === null && <p role="status">One moment …</p>}</main>;
  return <Version {...value} />;
}

function Version({ schema, version, all }: { readonly schema: RuleSchema; readonly version: RulesVersion; readonly all: readonly RulesListed[] }) {
  const [only, setOnly] = useState(false);
  const { route } = useLocation();
  const sought = useSoughtRules();
  const { content, name, number, trial } = version;
  const inUse = all[0]?.id === version.id;
  const before = all.find((other) => other.name === name && other.number === number - 1);
  const whole = roomsOf(schema, content);
  const changed = new Set(changesBetween(whole, defaultsOf(schema), content).map(({ line }) => line));
  const rooms = roomsWith(whole, (line) => sought.keeps(line) && (!only || changed.has(line)));
  const newest = all.find((other) => other.name === name);
  /** Versions never change: an older one becomes what is written onto the newest. */
  const takeUp = (): void => {
    if (newest === undefined) return;
    const { name: _name, version: _version, ...rules } = content;
    keepDraft(newest.id, { name, content: rules, note: `As in version ${number} again.` });
    route(`/rules/${newest.id}/change`);
  };
  const title = trial ? `Tried: ${content.name}` : `${name}, version ${number}`;
  return (
    <main class="rules with-rooms">
      <RoomsNav rooms={rooms} />
      <div class="rooms">
        <p><a href="/rules">All versions</a></p>
        <div class="page-head">
          <h1>{title}{inUse && <span class="badge">in use</span>}</h1>
          <div class="pushes">
            {isAtLeast('maker') && (newest === undefined || newest.id === version.id
              ? <a class="push chief" href={`/rules/${version.id}/change`}>{trial ? 'Go on from these' : inUse ? 'Change' : 'Change or use again'}</a>
              : <button type="button" class="push chief" onClick={takeUp}>Take up again</button>)}
            {isAtLeast('maker') && !trial && <a class="push" href={`/batches/new?rules=${version.id}`}>Make casts again by these</a>}
            <button type="button" class="push" onClick={() => saveAs(JSON.stringify(content, null, 2), `${title.replaceAll(/[^\w.-]+/g, '-')}.json`, 'application/json')}>Save as a file</button>
          </div>
        </div>
        <p class="quiet">
          {trial ? 'Tried' : 'Added'} {time(version.createdAt)} by {version.personName ?? 'the program'} · {counted(version.casts, 'cast')} made by them
        </p>
        {version.note !== null && <p class="note">{version.note}</p>}
        <div class="table-tools">
          {before !== undefined && <a class="push" href={`/rules/${before.id}/against/${version.id}`}>What changed since version {before.number}</a>}
          {all.length > 1 && (
            <Field label="Compare with">
              {(tie) => (
                <select {...tie} value="" onChange={(event) => route(`/rules/${(event.target as HTMLSelectElement).value}/against/${version.id}`)}>
                  <option value="">Choose a version</option>
                  {all.filter((other) => other.id !== version.id).map((other) => <option key={other.id} value={other.id}>{other.name}, version {other.number}</option>)}
                </select>
              )}
            </Field>
          )}
          {sought.input}
          <label class="tick words"><input type="checkbox" checked={only} onChange={() => setOnly(!only)} />Only what differs from the program's defaults ({changed.size})</label>
        </div>
        <RoomSections rooms={rooms} row={(line) => <RuleRow key={line.keys.join('.')} line={line} content={content} own={changed.has(line)} />} />
        {rooms.length === 0 && <p class="empty">{only && changed.size === 0 ? 'These rules are the program\'s defaults throughout.' : 'No rule has these words.'}</p>}
      </div>
    </main>
  );
}

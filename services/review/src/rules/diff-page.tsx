import { time } from '../parts/times.js';
import { ProblemBox } from '../parts/problem-box.js';
import { useLoaded } from '../parts/use-loaded.js';
import { readRules, rulesSchema } from '../server/rules.js';
import type { RulesVersion } from '../server/rules.js';
import { ChangeRow } from './change-row.js';
import { changesBetween, roomsOf } from './lines.js';

const titleOf = ({ name, number, trial, content }: RulesVersion): string => (trial ? `Tried: ${content.name}` : `${name}, version ${number}`);

/** What differs between two versions, each rule that does in both its forms. */
export function DiffPage({ fromId, toId }: { readonly fromId: string; readonly toId: string }) {
  const { value, problem } = useLoaded(async () => {
    const [schema, from, to] = await Promise.all([rulesSchema(), readRules(fromId), readRules(toId)]);
    return { schema, from, to };
  }, [fromId, toId]);
  if (value === undefined) return <main class="rules"><h1>Two versions of rules</h1><ProblemBox problem={problem} />{problem === null && <p role="status">One moment …</p>}</main>;
  const { schema, from, to } = value;
  const rooms = roomsOf(schema, from.content, to.content);
  const changes = changesBetween(rooms, from.content, to.content);
  return (
    <main class="rules">
      <p><a href="/rules">All versions</a></p>
      <div class="page-head">
        <h1>What differs</h1>
        <a class="push" href={`/rules/${toId}/against/${fromId}`}>The other way round</a>
      </div>
      <div class="change-row head">
        <span />
        <p><span class="quiet">from</span><br /><a href={`/rules/${from.id}`}>{titleOf(from)}</a><br /><span class="quiet small">{time(from.createdAt)}</span></p>
        <p><span class="quiet">to</span><br /><a href={`/rules/${to.id}`}>{titleOf(to)}</a><br /><span class="quiet small">{time(to.createdAt)}</span></p>
      </div>
      {changes.length === 0 && <p class="empty">Both say the same in every rule.</p>}
      {rooms.map((room) => {
        const own = changes.filter(({ line }) => line.keys[0] === room.key);
        if (own.length === 0) return null;
        return (
          <section key={room.key} class="room" aria-label={room.title}>
            <h2>{room.title}</h2>
            <ul>{own.map((change) => <ChangeRow key={change.line.keys.join('.')} change={change} />)}</ul>
          </section>
        );
      })}
    </main>
  );
}

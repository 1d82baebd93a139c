import { useSignal } from '@preact/signals';
import type { BenchWork } from '../order/bench-work.js';
import type { Foot } from '../order/foot.js';
import { useKeys } from '../order/keys.js';
import { mirrorDecisions } from '../order/mirror-decisions.js';
import { patchTool } from '../order/patch-tool.js';
import type { PatchTool } from '../order/patch-tool.js';
import { SIDE_WORDS, mm } from '../order/words.js';

const WORDS = { smooth: 'smoothed patch', protect: 'protected area' } as const;

/** Patches that the maker adds or protects, and decisions taken over to the other foot. */
export function Patches({ work }: { readonly work: BenchWork }) {
  const tool = patchTool.value;
  const radius = useSignal(8);
  const take = (decision: PatchTool['decision']): void => void (patchTool.value = tool?.decision === decision ? null : { decision, how: tool?.how ?? 'circle', radiusMm: radius.value });
  const size = (mmWide: number): void => {
    radius.value = Math.max(1, Math.min(60, mmWide));
    if (patchTool.value !== null) patchTool.value = { ...patchTool.value, radiusMm: radius.value };
  };
  useKeys({ a: () => take('smooth'), d: () => take('protect'), Escape: () => void (patchTool.value = null), '<': () => size(radius.value - 1), '>': () => size(radius.value + 1) });
  const all = work.feet.flatMap((foot) => foot.decisions.value.patches.map((patch, i) => ({ foot, patch, i })));
  const remove = (foot: Foot, at: number): void => foot.decide({ ...foot.decisions.value, patches: foot.decisions.value.patches.filter((_, i) => i !== at) });
  return (
    <section class="patches" aria-label="Patches of your own">
      <div class="step">
        <button type="button" class="push" aria-pressed={tool?.decision === 'smooth'} onClick={() => take('smooth')}><kbd>A</kbd>add a patch</button>
        <button type="button" class="push" aria-pressed={tool?.decision === 'protect'} onClick={() => take('protect')}><kbd>D</kbd>protect an area</button>
      </div>
      {tool !== null && (
        <div class="tool">
          <div role="group" aria-label="How it is laid">
            <button type="button" class="flat" aria-pressed={tool.how === 'circle'} onClick={() => void (patchTool.value = { ...tool, how: 'circle' })}>circle</button>
            <button type="button" class="flat" aria-pressed={tool.how === 'brush'} onClick={() => void (patchTool.value = { ...tool, how: 'brush' })}>brush</button>
          </div>
          <label class="small own-arrows">radius <input type="range" min="1" max="60" step="1" value={tool.radiusMm} onInput={(event) => size(Number(event.currentTarget.value))} /> <strong>{tool.radiusMm}</strong> mm</label>
          <p class="quiet small" role="status">{tool.how === 'circle' ? 'Press on the cast: a circle is laid there.' : 'Draw on the cast; arrows still turn it.'} Escape puts this away.</p>
        </div>
      )}
      {all.length > 0 && (
        <ul>
          {all.map(({ foot, patch, i }) => (
            <li key={`${foot.side}${i}`}>
              <span class={`patch-sign ${patch.decision}`} aria-hidden="true" />
              <span>{SIDE_WORDS[foot.side]}, {WORDS[patch.decision]} <span class="quiet">{mm(patch.radiusMm, 0)} mm round, {mm(patch.centre[0], 0)} mm from the heel</span></span>
              <button type="button" class="push" onClick={() => remove(foot, i)}>take away</button>
            </li>
          ))}
        </ul>
      )}
      {work.feet.length === 2 && <CopyOver work={work} />}
    </section>
  );
}

function CopyOver({ work }: { readonly work: BenchWork }) {
  const told = useSignal('');
  const [left, right] = work.feet;
  const copy = (from: Foot, to: Foot): void => {
    const lengthOf = ({ report }: Foot): number => {
      const found = report.value?.measurements.find(({ id, on }) => id === 'foot-length' && on === 'cast');
      return found !== undefined && 'value' in found ? found.value : 1;
    };
    const { decisions, met, patches } = mirrorDecisions(from.decisions.value, to.decisions.value, to.report.value?.marks ?? [], lengthOf(to) / lengthOf(from));
    const of = from.decisions.value.marks.length;
    told.value = met + patches === 0 ? `Nothing of the ${from.side} has its like on the ${to.side}.` : `${met} of ${of} decisions met a mark of the ${to.side}, ${patches} ${patches === 1 ? 'patch was' : 'patches were'} taken over. U takes it back.`;
    if (met + patches > 0) to.decide(decisions);
  };
  const has = ({ decisions }: Foot): boolean => decisions.value.marks.length + decisions.value.patches.length > 0;
  if (!has(left) && !has(right) && told.value === '') return null;
  return (
    <div class="copy-over">
      {[[left, right], [right, left]].map(([from, to]) => has(from) && <button type="button" class="push" key={from.side} onClick={() => copy(from, to)}>take the decisions of the {from.side} over to the {to.side}</button>)}
      <p class="small" role="status">{told.value}</p>
    </div>
  );
}

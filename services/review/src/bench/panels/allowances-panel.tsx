import { useSignal } from '@preact/signals';
import { Fragment } from 'preact';
import { useEffect } from 'preact/hooks';
import type { LastRules } from '@cast-to-last/pipeline/rules/last-rules';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { addOwnRules } from '../../server/results.js';
import { readRules } from '../../server/rules.js';
import type { RulesVersion } from '../../server/rules.js';
import type { BenchWork } from '../order/bench-work.js';
import type { Foot } from '../order/foot.js';
import { SIDE_WORDS, mm, signedMm } from '../order/words.js';
import { allowanceFields } from './allowance-fields.js';
import type { AllowanceField } from './allowance-fields.js';

/** What the last has more than the cast: set for these casts alone and tried at once, with what was asked and what came of it. */
export function AllowancesPanel({ work, mayDecide }: { readonly work: BenchWork; readonly mayDecide: boolean }) {
  return <div class="allowances">{work.feet.map((foot) => <OfFoot key={foot.side} foot={foot} others={work.feet.filter((other) => other !== foot)} mayDecide={mayDecide} />)}</div>;
}

function OfFoot({ foot, others, mayDecide }: { readonly foot: Foot; readonly others: readonly Foot[]; readonly mayDecide: boolean }) {
  const rules = useSignal<RulesVersion | null>(null);
  const draft = useSignal<LastRules | null>(null);
  const problem = useSignal<ServerProblem | null>(null);
  const busy = useSignal(false);
  const rulesId = foot.revision.value?.rulesId;
  useEffect(() => {
    if (rulesId === undefined) return;
    readRules(rulesId).then((read) => {
      rules.value = read;
      draft.value = read.content.last;
    }, (error: unknown) => void (problem.value = problemOf(error)));
  }, [rulesId]);
  const now = draft.value;
  if (rules.value === null || now === null) return <p key={foot.side} class="quiet">{SIDE_WORDS[foot.side]}: {rulesId === undefined ? 'no result yet.' : 'one moment …'}</p>;
  const { content } = rules.value;
  const changed = JSON.stringify(now) !== JSON.stringify(content.last);
  const attempt = async (on: readonly Foot[]): Promise<void> => {
    busy.value = true;
    try {
      for (const each of on) each.takeRules(await addOwnRules(each.cast.value.id, { ...content, last: now }));
      problem.value = null;
    } catch (error) {
      problem.value = problemOf(error);
    } finally {
      busy.value = false;
    }
  };
  return (
    <form onSubmit={(event) => {
      event.preventDefault();
      void attempt([foot]);
    }}>
      <fieldset disabled={!mayDecide}>
        <legend>{SIDE_WORDS[foot.side]}</legend>
        <p class="quiet small">By the rules “{content.name}”, version {content.version}.</p>
        {allowanceFields(content.last, toeHeightOf(foot)).map((field) => (
          <Fragment key={field.id}>
            {field.id === 'toe-box-height' && <Levelling side={foot.side} rules={now} set={(rules) => void (draft.value = rules)} />}
            <Allowance side={foot.side} field={field} rules={now} set={(value) => void (draft.value = field.write(now, value))} />
          </Fragment>
        ))}
        {mayDecide && (
          <div class="step">
            <button class="push chief" disabled={!changed || busy.value}>Try on the {foot.side}</button>
            {others.length > 0 && <button type="button" class="push" disabled={!changed || busy.value} onClick={() => void attempt([foot, ...others])}>try on both</button>}
            <button type="button" class="push" disabled={!changed} onClick={() => void (draft.value = content.last)}>as they were</button>
          </div>
        )}
        <ProblemBox problem={problem.value} />
      </fieldset>
      <Changes foot={foot} />
    </form>
  );
}

/** Whether the toes are levelled to a smooth box. What is built on a box has one. */
function Levelling({ side, rules, set }: { readonly side: string; readonly rules: LastRules; set(rules: LastRules): void }) {
  const { toeAllowanceMm, toeBox } = rules;
  const needed = toeAllowanceMm > 0 ? 'the toe allowance is built on them' : toeBox.heightMm !== null ? 'the box’s height is measured on them' : null;
  return (
    <label class="levelling">
      <input type="checkbox" checked={toeBox.level || needed !== null} disabled={needed !== null} aria-label={`toes levelled, ${side}`} onChange={(event) => set({ ...rules, toeBox: { ...toeBox, level: event.currentTarget.checked } })} />
      <span>toes levelled to a smooth box{needed !== null && <span class="quiet small">; {needed}</span>}</span>
    </label>
  );
}

const toeHeightOf = ({ report }: Foot): number | null => {
  const found = report.value?.measurements.find(({ id, on }) => id === 'toe-height' && on === 'cast');
  return found !== undefined && 'value' in found ? found.value : null;
};

interface AllowanceProps {
  readonly side: string;
  readonly field: AllowanceField;
  readonly rules: LastRules;
  set(value: number | null): void;
}

function Allowance({ side, field, rules, set }: AllowanceProps) {
  const value = field.read(rules);
  const id = `${side}-${field.id}`;
  const limited = (text: string): number => Math.max(field.least, Math.min(field.most, Number(text)));
  return (
    <div class={`allowance${value === null ? ' off' : ''}`}>
      <label for={id}>{field.label}</label>
      <input type="range" min={field.least} max={field.most} step={field.step} value={value ?? field.begin} aria-label={`${field.label}, ${side}, slider`} onInput={(event) => set(limited(event.currentTarget.value))} />
      {value === null
        ? <button type="button" id={id} class="push" onClick={() => set(field.begin)}>as cast</button>
        : <input id={id} type="number" min={field.least} max={field.most} step={field.step} value={value} onChange={(event) => set(limited(event.currentTarget.value))} />}
      {value === null || !field.mayBeOff ? <span class="quiet small">{field.unit}</span> : <button type="button" class="flat" aria-label={`${field.label} as cast`} onClick={() => set(null)}>×</button>}
    </div>
  );
}

function Changes({ foot }: { readonly foot: Foot }) {
  const changes = foot.report.value?.last.allowances.changes ?? [];
  if (changes.length === 0) return <p class="quiet">Nothing was changed from cast to last.</p>;
  const unit = (u: string): string => (u === 'deg' ? '°' : u === '%' ? ' %' : '');
  return (
    <table class="allowance-changes">
      <caption class="unseen">What was asked of the {foot.side} last, and what came of it</caption>
      <thead><tr><th scope="col">mm</th><th scope="col">cast</th><th scope="col">asked</th><th scope="col">got</th><th scope="col">change</th></tr></thead>
      <tbody>
        {changes.map(({ id, label, unit: u, before, asked, got }) => (
          <tr key={id}><th scope="row">{label}</th><td>{mm(before)}{unit(u)}</td><td>{asked === null ? '' : `${mm(asked)}${unit(u)}`}</td><td><strong>{mm(got)}{unit(u)}</strong></td><td>{signedMm(got - before)}</td></tr>
        ))}
      </tbody>
    </table>
  );
}

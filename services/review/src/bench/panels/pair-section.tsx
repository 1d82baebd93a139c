import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { compareResults } from '../../server/comparisons.js';
import type { BenchWork } from '../order/bench-work.js';
import { layPairMap, putPairMapAway } from '../order/pair-map.js';
import { mm, signedMm } from '../order/words.js';

/** The left laid on the right as its mirror image: what differs more than feet of one person usually do, and where. */
export function PairSection({ work }: { readonly work: BenchWork }) {
  const made = work.comparison;
  const busy = useSignal(false);
  const problem = useSignal<ServerProblem | null>(null);
  const [left, right] = work.feet.map(({ revision }) => revision.value?.id);
  const body = work.display.value.body === 'last' ? 'last' : 'cleaned';
  const of = body === 'last' ? 'last' : 'cast';
  useEffect(() => {
    const compared = made.peek();
    if (compared === null || (compared.first.revisionId === left && compared.second.revisionId === right && compared.of === of)) return;
    made.value = null;
    if (work.pairMap.peek()) putPairMapAway(work);
    work.pairMap.value = false;
  }, [left, right, of]);
  if (left === undefined || right === undefined) return null;
  const lay = async (): Promise<void> => {
    busy.value = true;
    try {
      made.value = await compareResults(left, right, of);
      problem.value = null;
    } catch (error) {
      problem.value = problemOf(error);
    } finally {
      busy.value = false;
    }
  };
  const map = async (): Promise<void> => {
    if (work.pairMap.value) {
      putPairMapAway(work);
      work.pairMap.value = false;
      return;
    }
    if (made.value === null) return;
    await layPairMap(work, made.value.report, body);
    work.pairMap.value = true;
    work.display.value = { ...work.display.value, change: true, rangeMm: 5 };
  };
  const report = made.value?.report;
  return (
    <section class="pair-section" aria-label="Left against right">
      <h2>Left against right</h2>
      {report === undefined
        ? <button type="button" class="push" disabled={busy.value} onClick={() => void lay()}>{busy.value ? 'laying them on each other …' : `lay the ${of === 'last' ? 'lasts' : 'casts'} on each other`}</button>
        : (
          <>
            {work.stage.value !== null && <button type="button" class="push" aria-pressed={work.pairMap.value} onClick={() => void map()}>show where they differ</button>}
            <table class="allowance-changes">
              <caption class="unseen">Deviation by part of the foot</caption>
              <thead><tr><th scope="col">left from right, mm</th><th scope="col">middle</th><th scope="col">95 % within</th></tr></thead>
              <tbody>{[...report.deviation.regions, ...(report.deviation.overall === null ? [] : [{ region: 'all', ...report.deviation.overall }])].map(({ region, medianMm, p95Mm }) => <tr key={region}><th scope="row">{region}</th><td>{signedMm(medianMm)}</td><td>{mm(p95Mm)}</td></tr>)}</tbody>
            </table>
            {report.findings.length === 0 ? <p class="quiet">Nothing differs more than feet of one person usually do.</p> : <ul class="bench-findings">{report.findings.map(({ code, severity, text }) => <li key={code} class={severity === 'note' ? '' : 'care'}><span>{text}</span></li>)}</ul>}
            <a href={`/api/v1/comparisons/${made.value?.id}/files/compare.pdf`} download>comparison as a page</a>
          </>
        )}
      <ProblemBox problem={problem.value} />
    </section>
  );
}

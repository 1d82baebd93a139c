import { useAsked } from '../../parts/use-asked.js';
import { useNews, useSoon } from '../../parts/use-news.js';
import type { FirstStepsOrder } from '../../server/first-steps.js';
import { isAtLeast } from '../../server/session.js';
import { endFirstSteps, firstStepsSeen } from './seen.js';
import './first-steps.css';

/** On a new installation: what comes next with the sample order, until its sheet was seen or the strip is put away. */
export function FirstSteps() {
  return firstStepsSeen.value || !isAtLeast('maker') ? null : <Steps />;
}

function Steps() {
  const asked = useAsked<FirstStepsOrder | null>('/samples/first-steps');
  const soon = useSoon(() => void asked.again(), 300);
  useNews({ missed: soon, cast: (told) => void (told.orderId === asked.body?.orderId && soon()) });
  const order = asked.body;
  const cast = order?.casts[0];
  if (order == null || cast === undefined) return null;
  const { state, currentRevisionId } = cast;
  const scanned = state !== 'awaiting-scan';
  const checked = currentRevisionId !== null;
  const approved = state === 'approved';
  const arrival = `/arrivals/${order.orderId}`;
  const bench = `/bench/${order.orderId}`;
  const steps = [
    { says: 'Upload the scan', href: arrival, done: scanned },
    { says: checked || !scanned ? 'Read the check' : 'The check is being made', href: arrival, done: checked && state !== 'awaiting-scan' && (approved || state === 'to-review') },
    { says: 'Decide the marks, approve', href: bench, done: approved },
    { says: 'Open the sheet', href: `/api/v1/revisions/${currentRevisionId}/files/sheet.pdf?show=1`, done: false },
  ];
  const next = approved ? 3 : checked ? 2 : scanned ? 1 : 0;
  return (
    <aside class="first-steps" aria-label="First steps">
      <p><strong>First steps</strong> with sample order {order.orderNumber}:</p>
      <ol>
        {steps.map(({ says, href, done }, i) => (
          <li key={i} class={done ? 'is-done' : i === next ? 'is-next' : ''}>
            <span class="step-number" aria-hidden="true">{done ? '✓' : i + 1}</span>
            {i === next ? <a href={href} {...(i === 3 && { target: '_blank', rel: 'noopener', onClick: () => endFirstSteps() })}>{says}</a> : <span>{says}{done && <span class="unseen"> (done)</span>}</span>}
          </li>
        ))}
      </ol>
      <button type="button" class="push" onClick={endFirstSteps}>Put away</button>
    </aside>
  );
}

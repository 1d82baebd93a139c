import type { Finding, Reading } from '@cast-to-last/pipeline/records';
import { LimitScale } from './limit-scale.js';

export interface FindingLineProps {
  /** As it stands in the picture. */
  readonly number: number;
  readonly finding: Finding;
  readonly reading: Reading | null;
  readonly chosen: boolean;
  readonly choose: () => void;
}

const SEVERITIES: Readonly<Record<Finding['severity'], { readonly says: string; readonly kind: 'bad' | 'care' | 'note' }>> = {
  recast: { says: 'cast again', kind: 'bad' }, care: { says: 'with care', kind: 'care' }, note: { says: 'note', kind: 'note' },
};

/** One finding: how grave, what, its value against the limit, and a button that shows its place. */
export function FindingLine({ number, finding, reading, chosen, choose }: FindingLineProps) {
  const { severity, text, at } = finding;
  const { says, kind } = SEVERITIES[severity];
  return (
    <li class={`finding is-${kind}`}>
      <p><span class="finding-number">{number}</span> <strong class={`finding-severity wash-${kind}`}>{says}</strong> {reading !== null && <span class="quiet">{reading.label}</span>}</p>
      <p class="finding-text">{text}</p>
      <LimitScale finding={finding} reading={reading} />
      {at !== null && <button type="button" class="push" aria-pressed={chosen} onClick={choose}>Show the place</button>}
    </li>
  );
}

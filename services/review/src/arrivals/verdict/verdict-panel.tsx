import { useState } from 'preact/hooks';
import { useAsked } from '../../parts/use-asked.js';
import type { Report } from '@cast-to-last/pipeline/report/report';
import { worstFirst } from '@cast-to-last/pipeline/report/worst-first';
import { ProblemBox } from '../../parts/problem-box.js';
import type { ArrivedCast } from '../../server/arrivals.js';
import type { Cast, RevisionRead } from '../../server/results.js';
import { VerdictSign } from '../wait-sign.js';
import { VERDICT_WORDS } from '../wait-words.js';
import { CastPicture } from './cast-picture.js';
import { FindingLine } from './finding-line.js';
import { RecastPart } from './recast-part.js';
import './verdict.css';

export interface VerdictPanelProps {
  readonly orderNumber: string;
  readonly cast: ArrivedCast;
  readonly kept: Cast;
  readonly revision: RevisionRead;
  readonly again: () => Promise<void>;
}

const MEANS: Readonly<Record<Report['castCheck']['verdict'], string>> = {
  usable: 'A last can be made from this cast.',
  'usable-with-care': 'Something lies beyond the limit of care: look at it before the last is made.',
  recast: 'A last from this cast would not fit.',
};

/** The verdict first, then each finding with its limit and its place on the cast. */
export function VerdictPanel({ orderNumber, cast, kept, revision, again }: VerdictPanelProps) {
  const report = useAsked<Report>(`/revisions/${revision.id}/files/report.json`);
  const [chosen, setChosen] = useState<string | null>(null);
  if (report.body === null) return <ProblemBox problem={report.problem} />;
  const { castCheck: { verdict, findings, readings }, marks, warnings } = report.body;
  const sorted = findings.toSorted(worstFirst);
  const asks = marks.filter(({ decision }) => decision === 'ask').length;
  const { says, kind } = VERDICT_WORDS[verdict];
  return (
    <div class="verdict-part">
      <p class={`verdict-head wash-${kind}`}><VerdictSign verdict={verdict} /> <strong>{says}</strong> <span>{MEANS[verdict]}</span></p>
      <p class="quiet">{marks.length === 0 ? 'No marks were found.' : `${marks.length} ${marks.length === 1 ? 'mark' : 'marks'}, ${asks === 0 ? 'none asks' : asks === 1 ? '1 asks' : `${asks} ask`} for a decision.`}{sorted.length === 0 && ' Nothing lies beyond a limit.'}</p>
      <div class="shown-places">
        {sorted.length > 0 && (
          <ol class="finding-list">
            {sorted.map((finding, i) => (
              <FindingLine key={finding.code} number={i + 1} finding={finding} reading={readings.find(({ id }) => id === finding.code) ?? null} chosen={chosen === finding.code} choose={() => setChosen(chosen === finding.code ? null : finding.code)} />
            ))}
          </ol>
        )}
        <CastPicture revisionId={revision.id} files={revision.files} side={cast.side} places={sorted.map(({ code, at, text }, i) => ({ code, at, text, number: i + 1 }))} chosen={chosen} choose={setChosen} />
      </div>
      {warnings.length > 0 && <details class="scan-warnings"><summary>{warnings.length === 1 ? '1 thing to know of the scan' : `${warnings.length} things to know of the scan`}</summary><ul>{warnings.map((text) => <li key={text}>{text}</li>)}</ul></details>}
      {verdict === 'recast' && (cast.waits === 'maker' || cast.waits === 'recast' || cast.waits === 'sent-back') && (
        <RecastPart orderNumber={orderNumber} cast={cast} kept={kept} revision={revision} reasons={sorted.filter(({ severity }) => severity === 'recast').map(({ text }) => text)} again={again} />
      )}
    </div>
  );
}

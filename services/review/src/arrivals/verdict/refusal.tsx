import { useState } from 'preact/hooks';
import type { LengthUnit } from '@cast-to-last/pipeline/records';
import { Field } from '../../parts/field.js';
import { ProblemBox } from '../../parts/problem-box.js';
import { remedyOf } from '../../parts/remedy-of.js';
import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import type { ArrivedCast } from '../../server/arrivals.js';
import { isAtLeast } from '../../server/session.js';
import { numberOf } from '../../parts/number-of.js';
import type { RevisionRead } from '../../server/results.js';
import { SCAN_FILES, upload } from '../scans/begin.js';
import type { Particulars } from '../scans/uploads.js';
import { wallFault } from '../scans/wall-fault.js';

export interface RefusalProps {
  readonly orderId: string;
  readonly cast: ArrivedCast;
  readonly revision: RevisionRead;
  readonly again: () => Promise<void>;
}

const UNIT_CODES = new Set(['unit-ambiguous', 'size-not-foot']);
const WALL_CODES = new Set(['wall-unknown', 'wall-too-thick']);
const UNITS: readonly LengthUnit[] = ['mm', 'cm', 'm', 'in'];

/** A cast that is scanned again is told of as before. */
function toldOf(scan: RevisionRead['scan']): Particulars {
  if (scan === null) return { kind: 'positive', unit: 'auto' };
  const { kind, unit, wallMm, scannerId } = scan;
  return { kind, unit, ...(wallMm !== null && { wallMm }), ...(scannerId !== null && { scannerId }) };
}

/** Why the work on a scan stopped, and what helps. */
export function Refusal({ orderId, cast, revision, again }: RefusalProps) {
  const { refusal, state, story, job, scanId } = revision;
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [unit, setUnit] = useState<LengthUnit>('mm');
  const [wall, setWall] = useState('');
  const tryTo = async (run: () => Promise<unknown>): Promise<void> => {
    try {
      await run();
      setProblem(null);
      await again();
    } catch (error) {
      setProblem(problemOf(error));
    }
  };
  /** The same scan once more, told of otherwise. */
  const rescan = (body: Readonly<Record<string, unknown>>): Promise<void> => tryTo(() => ask('POST', `/scans/${scanId}/again`, { body }));
  const other = cast.side === 'left' ? 'right' : 'left';
  const code = refusal?.code ?? '';
  return (
    <div class="refusal-part" role="group" aria-label="Why it stopped">
      {refusal !== null
        ? <p class="problem"><strong>{refusal.message.replace(refusal.remedy, '').trim()}</strong><br />{remedyOf(refusal)}</p>
        : (
          <div class="problem">
            <p><strong>{state === 'set-aside' ? 'The work on this scan was set aside: it ended its worker twice.' : 'The work on this scan failed.'}</strong></p>
            <p>The scan is kept. {isAtLeast('maker') ? 'Have it made anew; should it fail again, scan again with fewer triangles.' : 'Ask a maker to have it made anew, or scan again with fewer triangles.'}</p>
            <details><summary>What happened</summary><ul>{story.map(({ at, text }) => <li key={at}>{text}</li>)}</ul></details>
          </div>
        )}
      {UNIT_CODES.has(code) && (
        <div class="buttons">
          <Field label="The file is in">{(tie) => <select {...tie} value={unit} onChange={(e) => setUnit(e.currentTarget.value as LengthUnit)}>{UNITS.map((of) => <option key={of}>{of}</option>)}</select>}</Field>
          <button type="button" class="push chief" onClick={() => void rescan({ unit })}>Go on in {unit}</button>
        </div>
      )}
      {WALL_CODES.has(code) && (
        <div class="buttons">
          <Field label="Wall of the shell (mm)" fault={wallFault(wall)}>{(tie) => <input {...tie} inputMode="decimal" value={wall} onInput={(e) => setWall(e.currentTarget.value)} />}</Field>
          <button type="button" class="push chief" disabled={numberOf(wall) === null || wallFault(wall) !== undefined} onClick={() => void rescan({ wallMm: numberOf(wall) })}>Go on with this wall</button>
        </div>
      )}
      <div class="buttons">
        <label class="push chief file-push">Scan again<input type="file" accept={SCAN_FILES} onChange={(event) => {
          upload(orderId, cast.id, [...(event.currentTarget.files ?? [])], toldOf(revision.scan));
          event.currentTarget.value = '';
        }} /></label>
        {code === 'side-contradiction' && (
          <>
            <button type="button" class="push" onClick={() => void rescan({ side: other })}>It is the {other} foot</button>
            <button type="button" class="push" onClick={() => void rescan({ sideOverride: true })}>It is the {cast.side} foot all the same</button>
          </>
        )}
        {refusal === null && job !== null && isAtLeast('maker') && <button type="button" class="push" onClick={() => void tryTo(() => ask('POST', `/jobs/${job.id}/retry`))}>Make it anew</button>}
      </div>
      <ProblemBox problem={problem} />
    </div>
  );
}

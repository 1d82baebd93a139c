import { useState } from 'preact/hooks';
import { Field } from '../parts/field.js';
import { ProblemBox } from '../parts/problem-box.js';
import { day } from '../parts/times.js';
import { useAsked } from '../parts/use-asked.js';
import { ask } from '../server/ask.js';
import { problemOf } from '../server/problem.js';
import type { ServerProblem } from '../server/problem.js';
import type { KeptCheck, Scanner } from '../server/scanners.js';
import { isAtLeast } from '../server/session.js';
import { CheckTable } from './check-table.js';
import { Standing } from './standing.js';

const UNITS = [['auto', 'told from the size'], ['mm', 'mm'], ['cm', 'cm'], ['m', 'm'], ['in', 'inches']] as const;

/** One scanner: a new check by the scan of a gauge, and every check before. */
export function ScannerPage({ scannerId }: { readonly scannerId: string }) {
  const scanner = useAsked<Scanner & { readonly checks: readonly KeptCheck[] }>(`/scanners/${scannerId}`);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(false);
  const tryTo = async (run: () => Promise<unknown>): Promise<void> => {
    setBusy(true);
    try {
      await run();
      setProblem(null);
      await scanner.again();
    } catch (error) {
      setProblem(problemOf(error));
    }
    setBusy(false);
  };
  const check = (event: SubmitEvent): void => {
    event.preventDefault();
    const given = new FormData(event.target as HTMLFormElement);
    const file = given.get('scan') as File;
    const asked = new URLSearchParams({ fileName: file.name });
    for (const name of ['diameterMm', 'distanceMm', 'uncertaintyMm', 'unit']) {
      const text = String(given.get(name)).trim().replace(',', '.');
      if (text !== '') asked.set(name, text);
    }
    void tryTo(() => ask('POST', `/scanners/${scannerId}/checks?${asked}`, { bytes: file, headers: { 'content-type': 'application/octet-stream' } }));
  };
  const { body } = scanner;
  if (body === null) return <ProblemBox problem={scanner.problem} />;
  return (
    <>
      <p><a href="/people/scanners">Scanners</a></p>
      <div class="title-line"><h1>{body.name}</h1><Standing scanner={body} />
        {isAtLeast('maker') && <button type="button" class="push" onClick={() => void tryTo(() => ask('PATCH', `/scanners/${scannerId}`, { body: { retired: body.retiredAt === null }, ifMatch: `"${body.version}"` }))}>{body.retiredAt === null ? 'Take it out of use' : 'Take it into use again'}</button>}
      </div>
      {body.warnings.length > 0 && <ul class="meanwhile">{body.warnings.map((text) => <li key={text}>{text}</li>)}</ul>}
      <form class="board add-form" onSubmit={check}>
        <Field label="Scan of the gauge">{(tie) => <input {...tie} name="scan" type="file" accept=".stl,.ply,.obj" required />}</Field>
        <Field label="Diameter of a ball (mm)">{(tie) => <input {...tie} name="diameterMm" inputMode="decimal" required autoComplete="off" />}</Field>
        <Field label="Between centres (mm)">{(tie) => <input {...tie} name="distanceMm" inputMode="decimal" placeholder="one ball: empty" autoComplete="off" />}</Field>
        <Field label="Uncertainty of the gauge (mm)">{(tie) => <input {...tie} name="uncertaintyMm" inputMode="decimal" placeholder="0" autoComplete="off" />}</Field>
        <Field label="Unit of the file">{(tie) => <select {...tie} name="unit">{UNITS.map(([of, named]) => <option key={of} value={of}>{named}</option>)}</select>}</Field>
        <button class="push chief" disabled={busy}>{busy ? 'Measuring …' : 'Check it'}</button>
      </form>
      <ProblemBox problem={problem} />
      <h2>Checks</h2>
      {body.checks.length === 0 && <p class="quiet">It was never checked.</p>}
      {body.checks.map(({ id, content }) => (
        <section key={id} class="board gauge-check" aria-label={`Check of ${content.date}`}>
          <h3>{day(`${content.date}T12:00:00Z`)}: <span class={content.verdict === 'within-limits' ? 'is-good' : 'is-bad'}>{content.verdict === 'within-limits' ? '✓ within limits' : '✕ out of limits'}</span></h3>
          <CheckTable check={content} />
        </section>
      ))}
    </>
  );
}

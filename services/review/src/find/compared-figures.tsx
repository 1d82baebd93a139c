import type { ComparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { fixed, signed } from '../parts/figures.js';

const unitWord = (unit: string): string => (unit === 'deg' ? '°' : unit);

/** What the comparison found, and every figure of both with its difference. */
export function ComparedFigures({ report, of }: { readonly report: ComparisonReport; readonly of: 'cast' | 'last' }) {
  const { casts: [first, second], measures, readings, findings, deviation, registration } = report;
  return (
    <>
      {findings.length > 0 && (
        <section aria-labelledby="findings-title">
          <h2 id="findings-title">What stands out</h2>
          <ul class="findings">{findings.map(({ code, text, severity }) => <li key={code + text} class={severity === 'recast' ? 'problem' : 'board'}>{text}</li>)}</ul>
        </section>
      )}
      <div class="compare-tables">
        <Figures title={`Measures of the ${of === 'last' ? 'lasts' : 'casts'}`} rows={measures} names={[first.side, second.side]} />
        {readings.length > 0 && <Figures title="How they were cast" rows={readings} names={[first.side, second.side]} />}
        <section aria-labelledby="map-title">
          <h2 id="map-title">How far the surfaces stand apart</h2>
          <p class="quiet">First from second, outside positive, up to {fixed(deviation.upToMm, 0)} mm of height. Laid on each other to {fixed(registration.rmsMm, 2)} mm RMS{registration.mirrored && ', one mirrored'}.</p>
          <table class="rows">
            <thead><tr><th scope="col">Region</th><th scope="col" class="number">Median, mm</th><th scope="col" class="number">95 % within, mm</th><th scope="col" class="number">RMS, mm</th></tr></thead>
            <tbody>
              {[...(deviation.overall === null ? [] : [{ region: 'all' as string, ...deviation.overall }]), ...deviation.regions].map(({ region, medianMm, p95Mm, rmsMm }) => (
                <tr key={region}><th scope="row">{region}</th><td class="number">{signed(medianMm, 2)}</td><td class="number">{fixed(p95Mm, 2)}</td><td class="number">{fixed(rmsMm, 2)}</td></tr>
              ))}
            </tbody>
          </table>
        </section>
      </div>
    </>
  );
}

function Figures({ title, rows, names }: { readonly title: string; readonly rows: ComparisonReport['measures']; readonly names: readonly [string, string] }) {
  const id = title.replaceAll(' ', '-').toLowerCase();
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <div class="wide-table">
        <table class="rows">
          <thead><tr><th scope="col">Figure</th><th scope="col" class="number">First, {names[0]}</th><th scope="col" class="number">Second, {names[1]}</th><th scope="col" class="number">Difference</th></tr></thead>
          <tbody>
            {rows.map((figure) => (
              <tr key={figure.id} class={figure.beyond ? 'lit' : undefined}>
                <th scope="row">{figure.label}{figure.beyond && <span class="badge">more than usual</span>}</th>
                <td class="number">{fixed(figure.first)} {unitWord(figure.unit)}</td>
                <td class="number">{fixed(figure.second)} {unitWord(figure.unit)}</td>
                <td class="number">{signed(figure.difference)} <span class="quiet">± {fixed(figure.uncertainty)}</span></td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

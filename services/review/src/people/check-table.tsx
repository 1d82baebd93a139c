import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import { counted } from '../parts/figures.js';

const JUDGED: Readonly<Record<StoredScannerCheck['judgements'][number]['id'], string>> = { 'form-error': 'form error', 'size-error': 'size error', 'sphere-spacing-error': 'sphere-spacing error' };
const mm = (value: number, decimals = 3): string => `${value.toFixed(decimals).replace('-', '−')} mm`;

/** One check of a scanner: each figure against its limit of that day, and the scale correction that it asks for. */
export function CheckTable({ check: { gauge, scan, judgements, scale, warnings, balls } }: { readonly check: StoredScannerCheck }) {
  return (
    <>
      <p class="quiet small">Gauge of {mm(gauge.diameterMm, 2)}{gauge.distanceMm !== null && `, ${mm(gauge.distanceMm, 2)} between centres`}; {scan.file}, {counted(scan.triangles, 'triangle')}; of the balls {balls.map(({ coverage }) => `${Math.round(100 * coverage)} %`).join(' and ')} were seen.</p>
      <div class="table-scroll" tabIndex={0}>
        <table class="people-rows">
          <thead><tr><th scope="col">Figure</th><th scope="col">Measured</th><th scope="col">Limit</th><th scope="col">Outcome</th></tr></thead>
          <tbody>{judgements.map(({ id, ball, valueMm, limitMm, within, sure }) => (
            <tr key={`${id}${ball}`}>
              <th scope="row">{JUDGED[id]}{ball === null || balls.length === 1 ? '' : `, ball ${ball}`}</th><td>{mm(valueMm)}</td><td>{mm(limitMm)}</td>
              <td class={within ? 'is-good' : 'is-bad'}>{within ? '✓ within' : '✕ beyond'}{sure ? '' : ', but not surely'}</td>
            </tr>
          ))}</tbody>
        </table>
      </div>
      <p>{scale.significant ? `It asks for a scale correction of ${scale.factor.toFixed(5)} ± ${scale.uncertainty.toFixed(5)} (from the ${scale.from === 'spacing' ? 'spacing' : 'diameter'}); nothing is corrected in silence.` : 'No scale correction is asked for.'}</p>
      {warnings.length > 0 && <ul>{warnings.map((text) => <li key={text}>{text}</li>)}</ul>}
    </>
  );
}

import type { StoredScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';

const WORDS = { 'form-error': 'form error (95 % of the points)', 'size-error': 'size error', 'sphere-spacing-error': 'sphere-spacing error' } as const;

/** What the person at the scanner wants to know; the record holds the rest. */
export function scannerSummary(name: string, check: StoredScannerCheck, recordPath: string | undefined): string {
  const { balls, spacing, scale, gauge } = check;
  const lines = [`scanner "${name}", ${check.date}: ${check.verdict === 'within-limits' ? 'within limits' : 'OUT OF LIMITS'}`];
  balls.forEach((b, i) => {
    lines.push(`  ball ${i + 1}: diameter ${b.diameterMm.toFixed(3)} ± ${upTo(b.diameterUncertaintyMm)} mm (calibrated ${gauge.diameterMm}), ${b.points} points on ${(100 * b.coverage).toFixed(0)} % of it, scattering by ${b.noiseMm.toFixed(3)} mm, all within ${b.formErrorMm.toFixed(3)} mm`);
  });
  if (spacing !== null) lines.push(`  distance ${spacing.measuredMm.toFixed(3)} ± ${upTo(spacing.uncertaintyMm)} mm (calibrated ${gauge.distanceMm})`);
  for (const j of check.judgements) {
    lines.push(`  ${WORDS[j.id]}${j.ball === null ? '' : ` of ball ${j.ball}`}: ${signed(j.valueMm, j.id !== 'form-error')} mm, limit ${j.limitMm} mm: ${j.within ? 'within' : 'OUT'}${j.sure ? '' : ', but too near to the limit to be sure'}`);
  }
  const percent = (scale.factor - 1) * 100;
  lines.push(
    scale.significant
      ? `  scale: multiply coordinates by ${scale.factor.toFixed(6)} ± ${scale.uncertainty.toFixed(6)} (${signed(percent, true)} %), from the ${scale.from === 'spacing' ? 'distance' : 'diameter'}`
      : `  scale: no correction; what the ${scale.from === 'spacing' ? 'distance' : 'diameter'} asks for (${signed(percent, true)} %) is within its uncertainty`,
  );
  for (const warning of check.warnings) lines.push(`  note: ${warning}`);
  if (recordPath !== undefined) lines.push(`added to ${recordPath}`);
  return `${lines.join('\n')}\n`;
}

/** Rounded up to a thousandth, so that no uncertainty reads as none. */
const upTo = (mm: number): string => (Math.ceil(1000 * mm) / 1000).toFixed(3);

const signed = (value: number, sign: boolean): string => `${sign && value > 0 ? '+' : ''}${value.toFixed(3)}`;

import type { MakingReport } from '@cast-to-last/pipeline/making/making-report';
import type { Report } from '@cast-to-last/pipeline/report/report';

const size = (mm: readonly number[]): string => `${mm.map((c) => c.toFixed(1)).join(' × ')} mm`;

/** What the person at the bench wants to know of the making files at once. */
export function makeSummary({ order, side, print, milling, warnings }: MakingReport, report: Report, folder: string, names: readonly string[]): string {
  const lines = [`${order}, ${side}: last of ${(report.last.volume / 1000).toFixed(0)} cm³, ${report.last.triangles} triangles`];
  for (const { label, unit, before, asked, got } of report.last.allowances.changes) lines.push(`  ${label}: ${before.toFixed(1)} before, ${asked === null ? '' : `${asked.toFixed(1)} asked, `}${got.toFixed(1)} ${unit} got`);
  for (const piece of print.pieces) {
    const wall = piece.wall === null ? 'solid' : `wall ${piece.wall.least.toFixed(2)} to ${piece.wall.most.toFixed(2)} mm, ${piece.drains} drains`;
    lines.push(`  print ${piece.name}: plate ${piece.plate}, ${size(piece.size)}, ${wall}, overhang ${(piece.overhang.area / 100).toFixed(1)} cm², thinner than ${piece.thin.limit} mm ${(piece.thin.area / 100).toFixed(1)} cm²`);
  }
  lines.push(`  mill: blank ${size(milling.size)}, turned ${milling.turnedDeg}° about its length, or round ${milling.roundDiameter} mm`);
  for (const warning of warnings) lines.push(`  note: ${warning}`);
  lines.push(`written to ${folder}: ${names.join(', ')}`);
  return `${lines.join('\n')}\n`;
}

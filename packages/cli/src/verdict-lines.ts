import type { CheckReport } from '@cast-to-last/pipeline/report/report';
import { worstFirst } from '@cast-to-last/pipeline/report/worst-first';

const VERDICTS = { usable: 'usable', 'usable-with-care': 'usable with care', recast: 'cast again' } as const;

/** The verdict on a cast, what is wrong with it, worst first, and what the stages noticed. */
export function verdictLines({ scan, castCheck, warnings }: CheckReport, orderNumber: string): string[] {
  const findings = castCheck.findings.toSorted(worstFirst);
  return [
    `order ${orderNumber}, ${scan.side}: ${VERDICTS[castCheck.verdict]}`,
    ...findings.map(({ severity, text }) => `  ${severity}: ${text}`),
    ...warnings.map((warning) => `  note: ${warning}`),
  ];
}

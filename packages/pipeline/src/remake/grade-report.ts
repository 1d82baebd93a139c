import type { GradedLast } from './grade-last.js';
import { rounded } from '../report/rounded.js';

/** grade.json, the run of lasts that was graded from one; packages/pipeline/schema/grade.schema.json describes the same. Lengths and girths in mm, volumes in mm³. */
export interface GradeReport {
  readonly schema: 1;
  readonly orderNumber: string;
  readonly side: 'left' | 'right';
  readonly lasts: readonly {
    readonly name: string;
    readonly volume: number;
    readonly triangles: number;
    readonly changes: readonly { readonly id: string; readonly label: string; readonly before: number; readonly asked: number; readonly got: number }[];
    readonly warnings: readonly string[];
  }[];
  readonly rules: { readonly name: string; readonly version: string; readonly sha256: string };
  readonly program: { readonly version: string };
}

type GradeContext = Pick<GradeReport, 'orderNumber' | 'side' | 'rules' | 'program'>;

export const gradeReport = (graded: readonly GradedLast[], { orderNumber, side, rules, program }: GradeContext): GradeReport => ({
  schema: 1,
  orderNumber,
  side,
  lasts: graded.map(({ name, last, changes }) => ({
    name,
    volume: rounded(last.volume),
    triangles: last.mesh.triangles.length / 3,
    changes: changes.map(({ id, label, before, asked, got }) => ({ id, label, before: rounded(before), asked: rounded(asked), got: rounded(got) })),
    warnings: last.warnings,
  })),
  rules,
  program,
});

/** The same as a table, a line for each last and measure. */
export function gradeCsv({ lasts }: GradeReport): string {
  const lines = lasts.flatMap(({ name, changes }) => changes.map((c) => [name, c.label, c.before.toFixed(1), c.asked.toFixed(1), c.got.toFixed(1)].join(',')));
  return `${['last,measure,approved mm,asked mm,got mm', ...lines].join('\r\n')}\r\n`;
}

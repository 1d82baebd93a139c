import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { ReportedMark } from '@cast-to-last/pipeline/report/report';

export interface DecidedMark extends ReportedMark {
  /** Its number in the report, from 1: the same on the sheet. */
  readonly number: number;
  /** What the maker said of it, whether or not the result has it yet. */
  readonly word: Decisions['marks'][number] | null;
  readonly now: ReportedMark['decision'];
}

/** What asks comes first, then what is deepest. */
export function sortedMarks(marks: readonly ReportedMark[], { marks: words }: Decisions): readonly DecidedMark[] {
  const rank = { ask: 0, smooth: 1, keep: 2 } as const;
  return marks
    .map((mark, i): DecidedMark => {
      const word = words.find(({ id }) => id === mark.id) ?? null;
      return { ...mark, number: i + 1, word, now: word?.decision ?? mark.decision };
    })
    .sort((a, b) => rank[a.now] - rank[b.now] || Math.abs(b.depth) - Math.abs(a.depth));
}

/** The decisions with another word on one mark. */
export function decideMark(decisions: Decisions, mark: ReportedMark, decision: 'smooth' | 'keep', note?: string): Decisions {
  const before = decisions.marks.find(({ id }) => id === mark.id);
  const said = note ?? before?.note;
  return { ...decisions, marks: [...decisions.marks.filter(({ id }) => id !== mark.id), { id: mark.id, centre: [...mark.centre], decision, ...(said !== undefined && said !== '' && { note: said }) }] };
}

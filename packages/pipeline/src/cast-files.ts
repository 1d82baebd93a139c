import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { writeThreeMf } from '@cast-to-last/geometry/formats/threemf';
import { measuresCsv } from './measures-csv.js';
import type { CastOutcome } from './outcome.js';
import type { Report } from './report.js';
import { reviewGlb } from './review-glb.js';

export interface CastFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Every file that a cast can leave behind. */
export const CAST_FILE_NAMES = ['report.json', 'cleaned.stl', 'last.stl', 'last.3mf', 'review.glb', 'sheet.pdf', 'measures.csv'] as const;

const utf8 = new TextEncoder();

/** last.3mf. It is compressed beside the thread: a host that asks for it early does other work meanwhile. */
export const lastThreeMf = ({ last }: Pick<CastOutcome, 'last'>): Promise<Uint8Array> => writeThreeMf(last.mesh, { title: 'last' });

/** The files of one outcome, the sheet among them where there is one. `threeMf` is what `lastThreeMf` gives. */
export async function castFiles(
  outcome: CastOutcome, report: Report, sheet: Uint8Array | null, threeMf: Promise<Uint8Array> = lastThreeMf(outcome),
): Promise<CastFile[]> {
  const cleaned = writeStl(outcome.measured.mesh, { title: 'cleaned cast, foot frame' });
  const last = writeStl(outcome.last.mesh, { title: 'last, foot frame' });
  const review = reviewGlb(outcome);
  return [
    { name: 'report.json', bytes: utf8.encode(`${JSON.stringify(report, null, 2)}\n`) },
    { name: 'cleaned.stl', bytes: cleaned },
    { name: 'last.stl', bytes: last },
    { name: 'last.3mf', bytes: await threeMf },
    { name: 'review.glb', bytes: review },
    ...(sheet === null ? [] : [{ name: 'sheet.pdf', bytes: sheet }]),
    { name: 'measures.csv', bytes: utf8.encode(measuresCsv(report)) },
  ];
}

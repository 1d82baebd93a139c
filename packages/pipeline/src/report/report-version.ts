import { CastError } from '../errors.js';

/** The form of report.json that this program writes. A key may be added under the same number; one that changes its meaning or goes raises it. */
export const REPORT_SCHEMA = 1;

/** What makes a report of one form one of the next: by the number that it has. */
export type ReportSteps = Readonly<Record<number, (report: Readonly<Record<string, unknown>>) => Record<string, unknown>>>;

/** None was needed yet. */
const STEPS: ReportSteps = {};

/**
 * A report.json of any earlier form as one of today's; what is no report at all comes back as it is, for its reader to name
 * what is wrong with it. Throws CastError `report-too-new` for one of a later program.
 */
export function asCurrentReport(json: unknown, what: string, steps: ReportSteps = STEPS, current = REPORT_SCHEMA): unknown {
  let report = json;
  for (;;) {
    const schema = typeof report === 'object' && report !== null ? (report as Record<string, unknown>).schema : undefined;
    if (typeof schema !== 'number') return report;
    if (schema > current) {
      throw new CastError('report-too-new', `${what} has form ${schema} and was written by a later version of this program, which knows forms up to ${current}.`, 'Use that version, or process the scan again with this one.');
    }
    const step = steps[schema];
    if (schema === current || step === undefined) return report;
    report = { ...step(report as Record<string, unknown>), schema: schema + 1 };
  }
}

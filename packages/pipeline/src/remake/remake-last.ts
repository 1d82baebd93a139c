import type { LastRules } from '../rules/last-rules.js';
import type { Last } from '../records.js';
import type { Report } from '../report/report.js';
import { reportLast, reportMeasurement } from '../report/report.js';
import { stageKey } from '../stage-key.js';
import { buildLast, particularsFor } from '../stages/build-last.js';
import type { StoredCast } from './stored-cast.js';

export interface RemakeContext {
  readonly rules: { readonly name: string; readonly version: string; readonly sha256: string; readonly last: LastRules };
  readonly orderNumber: string;
  readonly programVersion: string;
  /** Raised with the stage that builds lasts. */
  readonly stageVersion: number;
}

/** The key of a last that is made again: what it is built on is the file of the cleaned cast. */
export const remakeKey = ({ cleanedSha256, report }: StoredCast, { rules, stageVersion, orderNumber }: RemakeContext): string =>
  stageKey('build-last', stageVersion, [cleanedSha256], { rules: rules.last, particulars: particularsFor(rules.last, { casting: report.casting, orderNumber }) });

/** Builds the last of a stored cast by these rules; marks, check and measures of the cast stay as they were approved. */
export const remakeLast = ({ measured, aligned, report }: StoredCast, { rules, orderNumber }: RemakeContext): Promise<Last> =>
  buildLast(measured, aligned, rules.last, particularsFor(rules.last, { casting: report.casting, orderNumber }));

/** The report of a folder with a last that was made again in the old one's place. */
export function remadeReport({ report }: StoredCast, last: Last, { rules, programVersion }: RemakeContext, stage: Report['stages'][number]): Report {
  const { files: _, ...kept } = report;
  const from = report.rules;
  const note = `The last was made again from the cleaned cast by the rules "${rules.name}", version ${rules.version}; cast check and marks are those of "${from.name}", version ${from.version}.`;
  return {
    ...kept,
    measurements: [...report.measurements.filter((m) => m.on === 'cast'), ...last.measurements.map(reportMeasurement)],
    last: reportLast(last),
    rules: { name: rules.name, version: rules.version, sha256: rules.sha256 },
    stages: [...report.stages.filter(({ name }) => !['build-last', 'draw-sheet', 'draw-note'].includes(name)), stage],
    program: { version: programVersion },
    warnings: [...new Set([...report.warnings.filter((w) => !w.startsWith('The last was made again')), ...last.warnings, note])],
  };
}

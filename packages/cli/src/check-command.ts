import type { Command } from 'commander';
import { CHECK_FILE_NAMES, checkFiles } from '@cast-to-last/pipeline/files/cast-files';
import { jsonText } from '@cast-to-last/pipeline/files/json-file';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { STAGE_NAMES } from '@cast-to-last/pipeline/outcome';
import { buildCheckReport } from '@cast-to-last/pipeline/report/report';
import { addCastCall, dateOf, readCastCall } from './cast-call.js';
import type { CastCallOptions } from './cast-call.js';
import { checkSummary } from './check-summary.js';
import { followStages } from './progress.js';
import { noteIfRecast } from './recast-note.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface CheckOptions extends CastCallOptions {
  readonly out?: string;
}

/** `check`: whether a last can be made from the cast that was scanned, before anybody makes it. */
export function addCheckCommand(program: Command): void {
  addCastCall(program.command('check').description('check whether the scanned cast is usable, without making a last'))
    .option('--out <dir>', 'folder for check.json and, where the cast has to be taken again, recast-note.pdf')
    .option('--json', 'print check.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .action(check);
}

async function check(scanPath: string, options: CheckOptions): Promise<void> {
  if (options.out !== undefined) await checkFolder(options.out);
  const { rules, order, input, warnings } = await readCastCall(scanPath, options);
  const { fileName } = input;
  // The stages take half a second to load; a call that cannot be answered does without them.
  const { checkScan } = await import('@cast-to-last/pipeline/pipeline');
  const progress = followStages({ stages: STAGE_NAMES.indexOf('check-cast') + 1, quiet: options.quiet, out: process.stderr });
  try {
    const outcome = await checkScan(input, rules, NO_DECISIONS, progress.step);
    const note = options.out === undefined ? null : await noteIfRecast(outcome, { orderNumber: order.orderNumber, date: dateOf(order) }, progress);
    const report = buildCheckReport(outcome, { fileName, stages: progress.stages, programVersion: PROGRAM_VERSION, warnings });
    const files = checkFiles(report, note);
    if (options.out !== undefined) await writeFolder(options.out, files, CHECK_FILE_NAMES);
    progress.stop();
    if (options.json) process.stdout.write(jsonText(report));
    else if (!options.quiet) {
      process.stdout.write(checkSummary(report, order.orderNumber));
      if (options.out !== undefined) process.stdout.write(`written to ${options.out}: ${files.map((f) => f.name).join(', ')}\n`);
    }
  } finally {
    progress.stop();
  }
}

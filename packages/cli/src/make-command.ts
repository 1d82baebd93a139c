import { readdir } from 'node:fs/promises';
import type { Command } from 'commander';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { rulesFile, withReport } from '@cast-to-last/pipeline/files/cast-files';
import { jsonText } from '@cast-to-last/pipeline/files/json-file';
import { makeSummary } from './make-summary.js';
import { followStages } from './progress.js';
import { readStoredCastCall } from './stored-cast.js';
import type { StoredCastOptions } from './stored-cast.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface MakeOptions extends StoredCastOptions {
  readonly out: string;
  readonly json: boolean;
  readonly quiet: boolean;
}

/** `make`: the last made again from a folder that `process` wrote, and what the printer and the mill need. */
export function addMakeCommand(program: Command): void {
  program
    .command('make')
    .description('make the last again from a folder that process wrote, with the files for printing and milling; the scan is not read again')
    .argument('<folder>', 'folder that process wrote')
    .option('--rules <file>', "other rules (JSON) than the folder's own")
    .option('--order-number <text>', "number on label and files; the folder's own where it knows one")
    .requiredOption('--out <dir>', 'folder for the results')
    .option('--json', 'print making.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .action(make);
}

async function make(folder: string, options: MakeOptions): Promise<void> {
  await checkFolder(options.out);
  const { cast, cleaned, rules, rulesSha256, orderNumber } = await readStoredCastCall(folder, options);
  const { STAGE_VERSIONS } = await import('@cast-to-last/pipeline/pipeline');
  const { remadeReport, remakeKey, remakeLast } = await import('@cast-to-last/pipeline/remake/remake-last');
  const { MAKING_FILES, makingFiles } = await import('@cast-to-last/pipeline/making/making-files');
  const { writeThreeMf } = await import('@cast-to-last/geometry/formats/threemf');
  const { measuresCsv } = await import('@cast-to-last/pipeline/report/measures-csv');
  const context = {
    rules: { name: rules.name, version: rules.version, sha256: rulesSha256, last: rules.last }, orderNumber, programVersion: PROGRAM_VERSION, stageVersion: STAGE_VERSIONS['build-last'],
  };
  const progress = followStages({ stages: 1, quiet: options.quiet, out: process.stderr });
  try {
    const last = await progress.step('build-last', remakeKey(cast, context), () => remakeLast(cast, context));
    const { side } = cast.aligned;
    const making = await makingFiles(last.mesh, rules.making, { orderNumber, side, rules: context.rules, programVersion: PROGRAM_VERSION });
    const report = remadeReport(cast, last, context, progress.stages[0]);
    const files = withReport(report, [
      { name: 'cleaned.stl', bytes: cleaned },
      { name: 'last.stl', bytes: writeStl(last.mesh, { title: 'last, foot frame' }) },
      { name: 'last.3mf', bytes: await writeThreeMf(last.mesh, { title: 'last' }) },
      { name: 'measures.csv', bytes: new TextEncoder().encode(measuresCsv(report)) },
      rulesFile(rules),
      ...making.files,
    ]);
    const earlier = (await readdir(options.out).catch(() => [])).filter((name) => MAKING_FILES.test(name));
    // A sheet there is of the last before; `sheet` draws it anew.
    await writeFolder(options.out, files, [...earlier, 'sheet.pdf', 'sheet.json']);
    progress.stop();
    if (options.json) process.stdout.write(jsonText(making.report));
    else if (!options.quiet) process.stdout.write(makeSummary(making.report, report, options.out, files.map((f) => f.name)));
  } finally {
    progress.stop();
  }
}

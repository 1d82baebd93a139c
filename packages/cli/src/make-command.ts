import { readdir } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import type { Command } from 'commander';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { withReport } from '@cast-to-last/pipeline/cast-files';
import { STAGE_VERSIONS } from '@cast-to-last/pipeline/pipeline';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules';
import { canonicalJson, sha256 } from '@cast-to-last/pipeline/stage-key';
import type { Report } from '@cast-to-last/pipeline/report';
import { WrongCall } from './arguments.js';
import { makeSummary } from './make-summary.js';
import { followStages } from './progress.js';
import { readJsonFile, readNamedFile } from './read-input.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface MakeOptions {
  readonly rules?: string;
  readonly orderNumber?: string;
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
    .option('--rules <file>', 'rule set (JSON); needed where the folder was not made by the default rules')
    .option('--order-number <text>', "number on label and files; the folder's own where it knows one")
    .requiredOption('--out <dir>', 'folder for the results')
    .option('--json', 'print making.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .action(make);
}

async function make(folder: string, options: MakeOptions): Promise<void> {
  await checkFolder(options.out);
  const path = join(folder, 'report.json');
  const json = await readJsonFile(path, 'The report', 'bad-report');
  const cleaned = await readNamedFile(join(folder, 'cleaned.stl'), 'The cleaned cast');
  const given = options.rules === undefined ? null : parseRules(await readJsonFile(options.rules, 'The rules file', 'bad-rules'));
  // The tree of boxes takes a while to load; other commands do without it.
  const { readStoredCast, remadeReport, remakeKey, remakeLast } = await import('@cast-to-last/pipeline/remake');
  const { MAKING_FILES, makingFiles } = await import('@cast-to-last/pipeline/making/making-files');
  const { writeThreeMf } = await import('@cast-to-last/geometry/formats/threemf');
  const { measuresCsv } = await import('@cast-to-last/pipeline/measures-csv');
  const cast = readStoredCast(json, `The report ${path}`, cleaned);
  const rules = rulesFor(given, cast.report);
  const rulesSha256 = sha256(canonicalJson(rules));
  const orderNumber = options.orderNumber ?? (await storedNumber(folder)) ?? basename(cast.report.scan.file, extname(cast.report.scan.file));
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
      ...making.files,
    ]);
    const earlier = (await readdir(options.out).catch(() => [])).filter((name) => MAKING_FILES.test(name));
    // A sheet there is of the last before; `sheet` draws it anew.
    await writeFolder(options.out, files, [...earlier, 'sheet.pdf', 'sheet.json']);
    progress.stop();
    if (options.json) process.stdout.write(`${JSON.stringify(making.report, null, 2)}\n`);
    else if (!options.quiet) process.stdout.write(makeSummary(making.report, report, options.out, files.map((f) => f.name)));
  } finally {
    progress.stop();
  }
}

/** The rules that are given; else the default ones, where the folder was made by them. */
function rulesFor(given: RuleSet | null, report: Report): RuleSet {
  if (given !== null) return given;
  if (report.rules.sha256 === sha256(canonicalJson(DEFAULT_RULES))) return DEFAULT_RULES;
  throw new WrongCall(`The folder was made by the rules "${report.rules.name}", version ${report.rules.version}, which it does not hold: name them, or others, with --rules.`);
}

/** The order's number as the folder's making files or sheet have it; null where there are none. */
async function storedNumber(folder: string): Promise<string | null> {
  const making = await optionalJson(join(folder, 'making.json'), 'The making file', 'bad-report');
  if (making !== null && typeof making === 'object' && 'order' in making && typeof making.order === 'string') return making.order;
  const path = join(folder, 'sheet.json');
  const sheet = await optionalJson(path, 'The sheet', 'bad-sheet-file');
  return sheet === null ? null : parseStoredDrawing(sheet, `The sheet ${path}`).header.orderNumber;
}

/** The value of a JSON file; null where there is none. */
async function optionalJson(path: string, what: string, badCode: string): Promise<unknown> {
  try {
    return await readJsonFile(path, what, badCode);
  } catch (error) {
    if (error instanceof WrongCall) return null;
    throw error;
  }
}

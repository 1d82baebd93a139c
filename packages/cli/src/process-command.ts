import type { Command } from 'commander';
import type { WeighSolid } from '@cast-to-last/geometry/solids/weigh-solid';
import { CAST_FILE_NAMES, CHECK_FILE_NAMES, castFiles } from '@cast-to-last/pipeline/files/cast-files';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { STAGE_NAMES } from '@cast-to-last/pipeline/outcome';
import type { CastOutcome, Step } from '@cast-to-last/pipeline/outcome';
import { buildReport } from '@cast-to-last/pipeline/report/report';
import type { SheetHeader } from '@cast-to-last/pipeline/sheet/sheet-content';
import type { DrawnSheet, SheetRun } from '@cast-to-last/pipeline/stages/draw-sheet';
import { addCastCall, dateOf, readCastCall } from './cast-call.js';
import type { CastCallOptions } from './cast-call.js';
import { readPair } from './pair-option.js';
import { followStages } from './progress.js';
import { readJsonFile } from './read-input.js';
import { noteIfRecast } from './recast-note.js';
import { summary } from './summary.js';
import { openSurfaceThread } from './surfaces/open-surface-thread.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface ProcessOptions extends CastCallOptions {
  readonly decisions?: string;
  readonly pair?: string;
  readonly out: string;
  readonly sheet: boolean;
}

/** `process`: one scan of one cast, made into a last with its report and sheet. */
export function addProcessCommand(program: Command): void {
  addCastCall(program.command('process').description('make a last from the scan of a plaster foot cast'))
    .option('--decisions <file>', "the maker's decisions on marks (JSON)")
    .option('--pair <dir>', "results of the customer's other foot, or of an earlier cast of this one, to compare with")
    .requiredOption('--out <dir>', 'folder for the results')
    .option('--json', 'print report.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .option('--no-sheet', 'draw no sheet.pdf')
    .action(processScan);
}

async function processScan(scanPath: string, options: ProcessOptions): Promise<void> {
  await checkFolder(options.out);
  const decisions =
    options.decisions === undefined ? NO_DECISIONS : parseDecisions(await readJsonFile(options.decisions, 'The decisions file', 'bad-decisions'));
  const { rules, order, input, warnings } = await readCastCall(scanPath, options);
  const { fileName } = input;
  const pair = options.pair === undefined ? null : await readPair(options.pair);
  // The stages take half a second to load; a call that cannot be answered does without them.
  const { drawSheetKey, makeLast } = await import('@cast-to-last/pipeline/pipeline');
  // The sheet where it is wanted; the note comes on top where there is one.
  const stages = STAGE_NAMES.length - (options.sheet ? 1 : 2);
  const progress = followStages({ stages, quiet: options.quiet, out: process.stderr });
  const beside = openSurfaceThread();
  const step: Step = async (name, key, run) => {
    const result = await progress.step(name, key, run);
    beside.see(name, result);
    return result;
  };
  const weigh: WeighSolid = (mesh) => {
    const weighed = beside.weigh(mesh);
    // What draws the sheet is loaded while the other thread weighs; where it cannot be, drawing tells of it.
    if (options.sheet) loadDrawing().catch(() => undefined);
    return weighed;
  };
  try {
    const made = await makeLast(input, rules, decisions, step, weigh);
    const outcome = pair === null ? made : await pair.compared(made, rules.check);
    const { orderNumber, customerNumber, remarks } = order;
    const header: SheetHeader = { orderNumber, customerNumber, remarks, date: dateOf(order), ...(pair === null ? {} : { other: pair.other }) };
    const run = { fileName, programVersion: PROGRAM_VERSION, warnings };
    const before = [...progress.stages.map((s) => s.key), ...(pair === null ? [] : [pair.key])];
    const sheet = options.sheet ? await progress.step('draw-sheet', drawSheetKey(before, rules, header, run), () => drawSheetOf(outcome, header, run)) : null;
    const note = await noteIfRecast(outcome, { orderNumber, date: header.date }, progress);
    const report = buildReport(outcome, { ...run, stages: progress.stages });
    const files = castFiles(outcome, report, { sheet, note, surfaces: await beside.files });
    await writeFolder(options.out, files, [...CAST_FILE_NAMES, ...CHECK_FILE_NAMES]);
    progress.stop();
    if (options.json) process.stdout.write(files[0].bytes);
    else if (!options.quiet) process.stdout.write(summary(report, orderNumber, options.out, files.map((f) => f.name)));
  } finally {
    progress.stop();
    await beside.close();
  }
}

/** The sheet. What draws it takes a tenth of a second to load, so a call that draws none does not load it. */
async function drawSheetOf(outcome: CastOutcome, header: SheetHeader, run: SheetRun): Promise<DrawnSheet> {
  const { drawOutcomeSheet } = await loadDrawing();
  return drawOutcomeSheet(outcome, header, run);
}

const loadDrawing = (): Promise<typeof import('@cast-to-last/pipeline/stages/draw-sheet')> => import('@cast-to-last/pipeline/stages/draw-sheet');

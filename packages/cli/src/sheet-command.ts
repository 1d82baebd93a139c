import { basename, dirname, extname, join, resolve } from 'node:path';
import { Option } from 'commander';
import type { Command } from 'commander';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { SheetForm, SheetHeader } from '@cast-to-last/pipeline/sheet/sheet-content';
import { parseSheetReport } from '@cast-to-last/pipeline/sheet/sheet-report';
import { recordFingerprint } from '@cast-to-last/pipeline/sheet/record-fingerprint';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import type { StoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { calendarDate } from './arguments.js';
import { otherCast } from './pair-option.js';
import { readJsonFile, readNamedFile, readOptionalJson } from './read-input.js';
import { readResult } from './result-folder.js';
import { checkFolder, writeFolder } from './write-folder.js';
import { WrongCall } from './wrong-call.js';

interface SheetOptions extends Partial<Pick<SheetForm, 'paper' | 'language'>> {
  readonly pair?: string;
  readonly approvedBy?: string;
  readonly approvedOn?: string;
  readonly out: string;
}

/** `sheet`: the measurement sheet drawn anew from the results of `process`, which is not run again. */
export function addSheetCommand(program: Command): void {
  program
    .command('sheet')
    .description('draw the measurement sheet anew from a folder that process wrote')
    .argument('<folder>', 'folder that process wrote')
    .addOption(new Option('--paper <paper>', 'paper of the sheet').choices(['a4', 'letter']))
    .addOption(new Option('--language <language>', 'language of the sheet').choices(['en', 'de']))
    .option('--pair <dir>', "results of the customer's other foot, or of another cast of this one, to stand beside")
    .option('--approved-by <name>', 'who approved the last; with --approved-on')
    .option('--approved-on <date>', 'when, YYYY-MM-DD', calendarDate)
    .requiredOption('--out <file>', 'the PDF to write')
    .action(drawSheetAnew);
}

async function drawSheetAnew(folder: string, options: SheetOptions): Promise<void> {
  const { approvedBy, approvedOn } = options;
  const by = approvedBy?.trim();
  if ((by === undefined) !== (approvedOn === undefined) || by === '') throw new WrongCall('--approved-by and --approved-on go together: a name and a date.');
  const target = resolve(options.out);
  if (extname(target).toLowerCase() !== '.pdf') throw new WrongCall(`--out ${options.out} must name a file that ends in .pdf.`);
  await checkFolder(dirname(target));
  const path = join(folder, 'report.json');
  const report = parseSheetReport(await readJsonFile(path, 'The report', 'bad-report'), `The report ${path}`);
  const stored = await storedDrawing(folder, recordFingerprint(report));
  const pair = options.pair === undefined ? {} : { other: otherCast(await readResult(options.pair)) };
  const approval = by === undefined || approvedOn === undefined ? {} : { approval: { by, on: approvedOn } };
  const header: SheetHeader = { ...(stored?.header ?? { orderNumber: basename(report.scan.file, extname(report.scan.file)), date: null }), ...pair, ...approval };
  const { paper, language, inches } = stored?.form ?? DEFAULT_RULES.sheet;
  const form: SheetForm = { paper: options.paper ?? paper, language: options.language ?? language, inches };
  const [cleaned, last] = [await readNamedFile(join(folder, 'cleaned.stl'), 'The cleaned cast'), await readNamedFile(join(folder, 'last.stl'), 'The last')];
  // What draws takes a while to load; a call that cannot be answered does without it.
  const { shapesOfFolder } = await import('@cast-to-last/pipeline/sheet/shapes-of-folder');
  const { drawReportSheet } = await import('@cast-to-last/pipeline/stages/draw-sheet');
  const { pdf } = await drawReportSheet(report, shapesOfFolder(report, cleaned, last, stored), header, form);
  const file: CastFile = { name: basename(target), bytes: pdf };
  await writeFolder(dirname(target), [file], []);
  process.stdout.write(`written to ${options.out}\n`);
}

/** What the sheet.json of the folder keeps; null where there is none, or one of another cast or last. */
async function storedDrawing(folder: string, fingerprint: string): Promise<StoredDrawing | null> {
  const path = join(folder, 'sheet.json');
  const json = await readOptionalJson(path, 'The sheet', 'bad-report');
  const stored = json === null ? null : parseStoredDrawing(json, `The sheet ${path}`);
  return stored?.fingerprint === fingerprint ? stored : null;
}

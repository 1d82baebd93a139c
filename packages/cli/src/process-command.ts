import { basename, extname } from 'node:path';
import { Option } from 'commander';
import type { Command } from 'commander';
import { castFiles, lastThreeMf } from '@cast-to-last/pipeline/cast-files';
import { NO_DECISIONS, parseDecisions } from '@cast-to-last/pipeline/decisions';
import { castingOf, parseOrder, refuseSideNotOrdered } from '@cast-to-last/pipeline/order';
import { STAGE_NAMES } from '@cast-to-last/pipeline/outcome';
import type { CastInput, CastOutcome } from '@cast-to-last/pipeline/outcome';
import { drawSheetKey, makeLast } from '@cast-to-last/pipeline/pipeline';
import { buildReport } from '@cast-to-last/pipeline/report';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules';
import type { SheetHeader } from '@cast-to-last/pipeline/sheet-content';
import { WrongCall, parseWall } from './arguments.js';
import { followStages } from './progress.js';
import { readJsonFile, readNamedFile } from './read-input.js';
import { summary } from './summary.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface ProcessOptions extends Required<Pick<CastInput, 'side' | 'kind' | 'unit'>> {
  readonly wall?: number;
  readonly order?: string;
  readonly rules?: string;
  readonly decisions?: string;
  readonly out: string;
  readonly overrideSide: boolean;
  readonly json: boolean;
  readonly quiet: boolean;
  readonly sheet: boolean;
}

/** `process`: one scan of one cast, made into a last with its report and sheet. */
export function addProcessCommand(program: Command): void {
  program
    .command('process')
    .description('make a last from the scan of a plaster foot cast')
    .argument('<scan>', 'the scan: STL, PLY or OBJ')
    .addOption(new Option('--side <side>', 'the foot that was cast').choices(['left', 'right']).makeOptionMandatory())
    .addOption(new Option('--kind <kind>', 'what was scanned: a poured positive, or a side of the plaster shell').choices(['positive', 'outside', 'inside']).default('positive'))
    .addOption(new Option('--wall <mm>', 'wall of a plaster shell, with --kind outside').argParser(parseWall))
    .addOption(new Option('--unit <unit>', 'unit of the file; auto infers it from the size and says so').choices(['auto', 'mm', 'cm', 'm', 'in']).default('auto'))
    .option('--order <file>', 'order file (JSON): number, sides, remarks, date')
    .option('--rules <file>', 'rule set (JSON); what it leaves out has the default')
    .option('--decisions <file>', "the maker's decisions on marks (JSON)")
    .requiredOption('--out <dir>', 'folder for the results')
    .option('--override-side', 'go on where the shape contradicts --side', false)
    .option('--json', 'print report.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .option('--no-sheet', 'draw no sheet.pdf')
    .action(processScan);
}

async function processScan(scanPath: string, options: ProcessOptions): Promise<void> {
  if (options.wall !== undefined && options.kind === 'positive') throw new WrongCall('--wall is for the scan of a shell (--kind outside); a positive has none.');
  await checkFolder(options.out);
  const rules = options.rules === undefined ? DEFAULT_RULES : parseRules(await readJsonFile(options.rules, 'The rules file', 'bad-rules'));
  const decisions =
    options.decisions === undefined ? NO_DECISIONS : parseDecisions(await readJsonFile(options.decisions, 'The decisions file', 'bad-decisions'));
  const fileName = basename(scanPath);
  const order =
    options.order === undefined
      ? { orderNumber: basename(fileName, extname(fileName)) }
      : parseOrder(await readJsonFile(options.order, 'The order file', 'bad-order'));
  refuseSideNotOrdered(order, options.side);
  const input: CastInput = {
    bytes: await readNamedFile(scanPath, 'The scan'),
    fileName,
    side: options.side,
    kind: options.kind,
    unit: options.unit,
    wallMm: options.wall,
    sideOverride: options.overrideSide,
    casting: castingOf(order),
  };

  const progress = followStages({ stages: STAGE_NAMES.length - (options.sheet ? 0 : 1), quiet: options.quiet, out: process.stderr });
  try {
    const outcome = await makeLast(input, rules, decisions, progress.step);
    const header: SheetHeader = {
      orderNumber: order.orderNumber, customerNumber: order.customerNumber, remarks: order.remarks, date: order.date ?? today(), fileName, programVersion: PROGRAM_VERSION,
    };
    const threeMf = lastThreeMf(outcome);
    // Awaited with the other files; a sheet that fails before that is the failure to tell of.
    threeMf.catch(() => undefined);
    const sheet = options.sheet ? await progress.step('draw-sheet', drawSheetKey(progress.stages.map((s) => s.key), rules, header), () => drawSheetOf(outcome, header)) : null;
    const report = buildReport(outcome, { fileName, stages: progress.stages, programVersion: PROGRAM_VERSION });
    const files = await castFiles(outcome, report, sheet, threeMf);
    await writeFolder(options.out, files);
    progress.stop();
    if (options.json) process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);
    else if (!options.quiet) process.stdout.write(summary(report, order.orderNumber, options.out, files.map((f) => f.name)));
  } finally {
    progress.stop();
  }
}

/** The sheet. What draws it takes a tenth of a second to load, so a call that draws none does not load it. */
async function drawSheetOf(outcome: CastOutcome, header: SheetHeader): Promise<Uint8Array> {
  const { drawCastSheet } = await import('@cast-to-last/pipeline/stages/draw-sheet');
  return drawCastSheet(outcome, header);
}

/** Today on this machine's calendar, YYYY-MM-DD. */
function today(): string {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

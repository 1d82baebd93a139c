import { basename, extname } from 'node:path';
import { Option } from 'commander';
import type { Command } from 'commander';
import { castingOf, parseOrder, refuseSideNotOrdered } from '@cast-to-last/pipeline/order';
import type { Order } from '@cast-to-last/pipeline/order';
import type { CastInput } from '@cast-to-last/pipeline/outcome';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { parseScannerRecord } from '@cast-to-last/pipeline/scanner/scanner-record';
import { scannerWarnings } from '@cast-to-last/pipeline/scanner/scanner-warnings';
import { WALL_MM } from '@cast-to-last/pipeline/shell/wall-limits';
import { millimetres, unitOption } from './arguments.js';
import { readJsonFile, readNamedFile } from './read-input.js';
import { readRules } from './read-rules.js';
import { WrongCall } from './wrong-call.js';

/** What every command that reads the scan of a cast is told. */
export interface CastCallOptions extends Required<Pick<CastInput, 'side' | 'kind' | 'unit'>> {
  readonly wall?: number;
  readonly order?: string;
  readonly rules?: string;
  readonly scanner?: string;
  readonly overrideSide: boolean;
  readonly json: boolean;
  readonly quiet: boolean;
}

/** The scan and its options, on a command. */
export function addCastCall(command: Command): Command {
  return command
    .argument('<scan>', 'the scan: STL, PLY or OBJ')
    .addOption(new Option('--side <side>', 'the foot that was cast').choices(['left', 'right']).makeOptionMandatory())
    .addOption(new Option('--kind <kind>', 'what was scanned: a poured positive, or a side of the plaster shell').choices(['positive', 'outside', 'inside']).default('positive'))
    .addOption(new Option('--wall <mm>', 'wall of a plaster shell, with --kind outside').argParser(millimetres(WALL_MM.least, WALL_MM.most)))
    .addOption(unitOption('unit of the file; auto infers it from the size and says so'))
    .option('--order <file>', 'order file (JSON): number, sides, and how the cast was taken')
    .option('--rules <file>', 'rule set (JSON); what it leaves out has the default')
    .option('--scanner <file>', 'record of the scanner (from scanner-check); says so where it is out of date or out of limits')
    .option('--override-side', 'go on where the shape contradicts --side', false);
}

export interface CastCall {
  readonly rules: RuleSet;
  /** Where no order file is given: the scan's name as its number. */
  readonly order: Order;
  readonly input: CastInput;
  /** What must be said of the scanner. */
  readonly warnings: readonly string[];
}

/** Reads what the call names. Throws WrongCall for what cannot be read, CastError for what cannot be used. */
export async function readCastCall(scanPath: string, options: CastCallOptions): Promise<CastCall> {
  if (options.wall !== undefined && options.kind === 'positive') throw new WrongCall('--wall is for the scan of a shell (--kind outside); a positive has none.');
  const rules = await readRules(options.rules);
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
    orderNumber: order.orderNumber,
  };
  const warnings =
    options.scanner === undefined
      ? []
      : scannerWarnings(parseScannerRecord(await readJsonFile(options.scanner, 'The scanner record', 'bad-scanner-record')), dateOf(order), rules.scanner);
  return { rules, order, input, warnings };
}

/** The order's date, or today's, YYYY-MM-DD. */
export const dateOf = ({ date }: Order): string => date ?? today();

/** Today on this machine's calendar, YYYY-MM-DD. */
export function today(): string {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

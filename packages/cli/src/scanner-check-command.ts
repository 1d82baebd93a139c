import { randomUUID } from 'node:crypto';
import { rename, rm, writeFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { Option } from 'commander';
import type { Command } from 'commander';
import { jsonText } from '@cast-to-last/pipeline/files/json-file';
import { readMeshFile } from '@cast-to-last/pipeline/read-mesh-file';
import type { LengthUnit } from '@cast-to-last/pipeline/records';
import { checkScanner } from '@cast-to-last/pipeline/scanner/scanner-check';
import type { ScannerRecord } from '@cast-to-last/pipeline/scanner/scanner-record';
import { addToRecord, parseScannerRecord, storeScannerCheck } from '@cast-to-last/pipeline/scanner/scanner-record';
import { sha256 } from '@cast-to-last/pipeline/digest';
import { calendarDate, millimetres, unitOption } from './arguments.js';
import { today } from './cast-call.js';
import { readNamedFile, readOptionalJson } from './read-input.js';
import { readRules } from './read-rules.js';
import { scannerSummary } from './scanner-summary.js';
import { PROGRAM_VERSION } from './version.js';
import { WrongCall } from './wrong-call.js';

interface ScannerCheckOptions {
  readonly diameter: number;
  readonly distance?: number;
  readonly uncertainty: number;
  readonly unit: LengthUnit | 'auto';
  readonly name?: string;
  readonly date?: string;
  readonly record?: string;
  readonly rules?: string;
  readonly json: boolean;
}

/** `scanner-check`: how true a scanner is, from its scan of one or two gauge balls. */
export function addScannerCheckCommand(program: Command): void {
  program
    .command('scanner-check')
    .description('measure how true a scanner is, from its scan of one or two gauge balls')
    .argument('<scan>', 'the scan of the gauge: STL, PLY or OBJ; table, stand and other things may be in it')
    .addOption(new Option('--diameter <mm>', 'calibrated diameter of the balls').argParser(millimetres(3, 300)).makeOptionMandatory())
    .addOption(new Option('--distance <mm>', 'calibrated distance between the centres of two balls').argParser(millimetres(5, 5000)))
    .addOption(new Option('--uncertainty <mm>', 'of the calibration, half-width of a 95 % interval').argParser(millimetres(0, 5)).default(0))
    .addOption(unitOption('unit of the file; auto takes the one in which such a ball is there'))
    .option('--name <text>', "the workshop's name for the scanner")
    .addOption(new Option('--date <date>', 'day of the check, YYYY-MM-DD; today where left out').argParser(calendarDate))
    .option('--record <file>', "the scanner's record (JSON): made where it is missing, added to where it is there")
    .option('--rules <file>', 'rule set (JSON) with the limits')
    .option('--json', 'print the check as JSON', false)
    .action(scannerCheck);
}

async function scannerCheck(scanPath: string, options: ScannerCheckOptions): Promise<void> {
  const { diameter: diameterMm, distance: distanceMm = null, uncertainty: uncertaintyMm, unit } = options;
  if (distanceMm !== null && distanceMm <= diameterMm) throw new WrongCall('--distance runs from centre to centre: it is more than the diameter.');
  const rules = await readRules(options.rules);
  // Read before the work, so that a record that cannot be used costs no time.
  const before = options.record === undefined ? null : await recordAt(options.record);
  const bytes = await readNamedFile(scanPath, 'The scan');
  const check = checkScanner({ mesh: readMeshFile(bytes).mesh, unit }, { diameterMm, distanceMm, uncertaintyMm });
  const stored = storeScannerCheck(check, rules.scanner, {
    date: options.date ?? today(), fileName: basename(scanPath), sha256: sha256(bytes), programVersion: PROGRAM_VERSION,
  });
  const record = addToRecord(before, options.name ?? null, stored);
  if (options.record !== undefined) await writeWhole(options.record, jsonText(record));
  process.stdout.write(options.json ? jsonText(stored) : scannerSummary(record.scanner, stored, options.record));
}

/** The record that is there; null where none is yet. */
async function recordAt(path: string): Promise<ScannerRecord | null> {
  const json = await readOptionalJson(path, 'The scanner record', 'bad-scanner-record');
  return json === null ? null : parseScannerRecord(json);
}

/** Writes a file whole beside its place and moves it there, so that nothing half-written is ever seen. */
async function writeWhole(path: string, text: string): Promise<void> {
  const beside = `${path}.part-${randomUUID()}`;
  try {
    await writeFile(beside, text).catch((error: NodeJS.ErrnoException) => {
      throw new WrongCall(`The record ${path} cannot be written: ${error.code}.`);
    });
    await rename(beside, path);
  } finally {
    await rm(beside, { force: true });
  }
}

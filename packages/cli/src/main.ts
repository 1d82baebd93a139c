#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { CastError } from '@cast-to-last/pipeline/errors';
import { describeOption } from './arguments.js';
import { addCheckCommand } from './check-command.js';
import { dropWhatNobodyReads } from './closed-pipe.js';
import { addCompareCommand } from './compare-command.js';
import { addGradeCommand } from './grade-command.js';
import { addMakeCommand } from './make-command.js';
import { addProcessCommand } from './process-command.js';
import { addRulesCommand } from './rules-command.js';
import { addScannerCheckCommand } from './scanner-check-command.js';
import { addSheetCommand } from './sheet-command.js';
import { PROGRAM_VERSION } from './version.js';
import { EXIT, WrongCall } from './wrong-call.js';

dropWhatNobodyReads(process.stdout, process.stderr);

const program = new Command('cast-to-last')
  .description('Makes lasts from scanned plaster foot casts: aligned, checked, measured, smoothed and closed, with a measurement sheet.')
  .version(PROGRAM_VERSION)
  .showHelpAfterError('Say --help for the options.')
  .configureHelp({ optionDescription: describeOption })
  .exitOverride()
  .addHelpText('after', '\nExit codes: 0 done, 2 wrong call, 3 the scan, order, rules or decisions cannot be used (the code and the remedy are printed), 1 anything else.');
addProcessCommand(program);
addCheckCommand(program);
addCompareCommand(program);
addRulesCommand(program);
addScannerCheckCommand(program);
addSheetCommand(program);
addMakeCommand(program);
addGradeCommand(program);

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = report(error);
}

/** Says what went wrong on stderr; the exit code. */
function report(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.wrongCall;
  if (error instanceof WrongCall) {
    process.stderr.write(`error: ${error.message}\nSay --help for the options.\n`);
    return EXIT.wrongCall;
  }
  if (error instanceof CastError) {
    process.stderr.write(`refused (${error.code}): ${error.message}\n`);
    return EXIT.refused;
  }
  process.stderr.write(`fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  return EXIT.fault;
}

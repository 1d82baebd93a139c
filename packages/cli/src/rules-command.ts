import type { Command } from 'commander';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { WrongCall } from './arguments.js';
import { readJsonFile } from './read-input.js';

/** `rules`: a complete rule set to begin from, or a check of one's own. */
export function addRulesCommand(program: Command): void {
  program
    .command('rules')
    .description('print the default rule set, or check a rules file')
    .option('--print-default', 'print the rule set that applies where none is given, as JSON', false)
    .option('--check <file>', 'read a rules file and print it with the defaults filled in')
    .action(async ({ printDefault, check }: { printDefault: boolean; check?: string }) => {
      if (printDefault === (check !== undefined)) throw new WrongCall('Say either --print-default or --check FILE.');
      const rules = check === undefined ? DEFAULT_RULES : parseRules(await readJsonFile(check, 'The rules file', 'bad-rules'));
      process.stdout.write(`${JSON.stringify(rules, null, 2)}\n`);
    });
}

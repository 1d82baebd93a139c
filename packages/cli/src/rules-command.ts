import type { Command } from 'commander';
import { WrongCall } from './wrong-call.js';
import { jsonText } from '@cast-to-last/pipeline/files/json-file';
import { readRules } from './read-rules.js';

/** `rules`: a complete rule set to begin from, or a check of one's own. */
export function addRulesCommand(program: Command): void {
  program
    .command('rules')
    .description('print the default rule set, or check a rules file')
    .option('--print-default', 'print the rule set that applies where none is given, as JSON', false)
    .option('--check <file>', 'read a rules file and print it with the defaults filled in')
    .action(async ({ printDefault, check }: { printDefault: boolean; check?: string }) => {
      if (printDefault === (check !== undefined)) throw new WrongCall('Say either --print-default or --check FILE.');
      const rules = await readRules(check);
      process.stdout.write(jsonText(rules));
    });
}

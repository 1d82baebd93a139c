import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { readJsonFile } from './read-input.js';

/** The rules in the file that a call names; the default ones where it names none. Throws WrongCall, CastError `bad-rules`. */
export const readRules = async (path: string | undefined): Promise<RuleSet> =>
  path === undefined ? DEFAULT_RULES : parseRules(await readJsonFile(path, 'The rules file', 'bad-rules'));

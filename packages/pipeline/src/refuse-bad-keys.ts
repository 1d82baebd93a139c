import type { z } from 'zod';
import { CastError } from './errors.js';
import type { KeyFault } from './errors.js';

type Issue = z.core.$ZodIssue;

/** A path as a person writes it: marks.protect[0].radiusMm; the whole file where the path is empty. */
function pathText(path: readonly PropertyKey[]): string {
  let text = '';
  for (const key of path) {
    if (typeof key === 'number') text += `[${key}]`;
    else text += text === '' ? String(key) : `.${String(key)}`;
  }
  return text === '' ? 'the file itself' : text;
}

function faultsOf(issue: Issue): KeyFault[] {
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => ({ path: pathText([...issue.path, key]), message: 'no such key' }));
  return [{ path: pathText(issue.path), message: issue.message }];
}

/** The refusal of a hand-written JSON file (rules, decisions, order): every bad key with its path. */
export function refuseBadKeys(code: string, what: string, example: string, issues: readonly Issue[]): CastError {
  const faults = issues.flatMap(faultsOf);
  const shown = faults.map(({ path, message }) => `${path}: ${message}`);
  const more = shown.length > 8 ? `; and ${shown.length - 8} more` : '';
  return new CastError(code, `${what} cannot be used: ${shown.slice(0, 8).join('; ')}${more}.`, `Mend it and try again; ${example}.`, faults);
}

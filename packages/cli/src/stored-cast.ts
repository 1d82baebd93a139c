import { basename, extname, join } from 'node:path';
import type { StoredCast } from '@cast-to-last/pipeline/remake';
import type { Report } from '@cast-to-last/pipeline/report';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { canonicalJson, sha256 } from '@cast-to-last/pipeline/stage-key';
import { WrongCall } from './arguments.js';
import { readJsonFile, readNamedFile } from './read-input.js';

export interface StoredCastOptions {
  readonly rules?: string;
  readonly orderNumber?: string;
}

/** A folder that `process` wrote, and what a last is made again by. */
export interface StoredCastCall {
  readonly cast: StoredCast;
  /** Bytes of cleaned.stl. */
  readonly cleaned: Uint8Array;
  readonly rules: RuleSet;
  readonly rulesSha256: string;
  readonly orderNumber: string;
}

/** Throws WrongCall for what cannot be read, CastError for what cannot be used. */
export async function readStoredCastCall(folder: string, options: StoredCastOptions): Promise<StoredCastCall> {
  const path = join(folder, 'report.json');
  const json = await readJsonFile(path, 'The report', 'bad-report');
  const cleaned = await readNamedFile(join(folder, 'cleaned.stl'), 'The cleaned cast');
  const given = options.rules === undefined ? null : parseRules(await readJsonFile(options.rules, 'The rules file', 'bad-rules'));
  // The tree of boxes takes a while to load; other commands do without it.
  const { readStoredCast } = await import('@cast-to-last/pipeline/remake');
  const cast = readStoredCast(json, `The report ${path}`, cleaned);
  const rules = rulesFor(given, cast.report);
  const orderNumber = options.orderNumber ?? (await storedNumber(folder)) ?? basename(cast.report.scan.file, extname(cast.report.scan.file));
  return { cast, cleaned, rules, rulesSha256: sha256(canonicalJson(rules)), orderNumber };
}

/** The rules that are given; else the default ones, where the folder was made by them. */
function rulesFor(given: RuleSet | null, report: Report): RuleSet {
  if (given !== null) return given;
  if (report.rules.sha256 === sha256(canonicalJson(DEFAULT_RULES))) return DEFAULT_RULES;
  throw new WrongCall(`The folder was made by the rules "${report.rules.name}", version ${report.rules.version}, which it does not hold: name them, or others, with --rules.`);
}

/** The order's number as the folder's sheet has it; null where there is none. */
async function storedNumber(folder: string): Promise<string | null> {
  const path = join(folder, 'sheet.json');
  const json = await readJsonFile(path, 'The sheet', 'bad-sheet-file').catch((error: unknown) => {
    if (error instanceof WrongCall) return null;
    throw error;
  });
  return json === null ? null : parseStoredDrawing(json, `The sheet ${path}`).header.orderNumber;
}

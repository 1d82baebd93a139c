import { basename, extname, join } from 'node:path';
import type { StoredCast } from '@cast-to-last/pipeline/remake/stored-cast';
import type { Report } from '@cast-to-last/pipeline/report/report';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { parseStoredDrawing } from '@cast-to-last/pipeline/sheet/stored-drawing';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { readJsonFile, readNamedFile, readOptionalJson } from './read-input.js';
import { readRules } from './read-rules.js';
import { WrongCall } from './wrong-call.js';

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
  const given = options.rules === undefined ? null : await readRules(options.rules);
  // The tree of boxes takes a while to load; other commands do without it.
  const { readStoredCast } = await import('@cast-to-last/pipeline/remake/stored-cast');
  const cast = readStoredCast(json, `The report ${path}`, cleaned);
  const rules = given ?? (await storedRules(folder, cast.report));
  const orderNumber = options.orderNumber ?? (await storedNumber(folder)) ?? basename(cast.report.scan.file, extname(cast.report.scan.file));
  return { cast, cleaned, rules, rulesSha256: jsonSha256(rules), orderNumber };
}

/** The rules that the folder was made by: as it holds them, or the default ones. */
async function storedRules(folder: string, report: Report): Promise<RuleSet> {
  const path = join(folder, 'rules.json');
  const json = await readOptionalJson(path, 'The rules', 'bad-rules');
  for (const rules of json === null ? [DEFAULT_RULES] : [parseRules(json), DEFAULT_RULES]) {
    if (report.rules.sha256 === jsonSha256(rules)) return rules;
  }
  throw new WrongCall(`The folder was made by the rules "${report.rules.name}", version ${report.rules.version}, which it does not hold: name them, or others, with --rules.`);
}

/** The order's number as the folder's making files or sheet have it; null where there are none. */
async function storedNumber(folder: string): Promise<string | null> {
  const making = await readOptionalJson(join(folder, 'making.json'), 'The making file', 'bad-report');
  if (making !== null && typeof making === 'object' && 'order' in making && typeof making.order === 'string') return making.order;
  const path = join(folder, 'sheet.json');
  const sheet = await readOptionalJson(path, 'The sheet', 'bad-report');
  return sheet === null ? null : parseStoredDrawing(sheet, `The sheet ${path}`).header.orderNumber;
}

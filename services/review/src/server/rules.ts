import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import { ask } from './ask.js';
import type { Answer } from './ask.js';
import type { Page } from './page.js';
import type { RuleSchema } from './rule-schema.js';

/** A version of rules as the list shows it. */
export interface RulesListed {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly number: number;
  readonly sha256: string;
  readonly note: string | null;
  readonly personId: string | null;
  /** Null: the program added it, or the account is gone. */
  readonly personName: string | null;
  readonly createdAt: string;
  /** Casts whose present result was made by it. */
  readonly casts: number;
}

export interface RulesVersion extends RulesListed {
  readonly content: RuleSet;
  /** Only tried on chosen casts, never added as a version. */
  readonly trial: boolean;
}

export interface RulesChecked {
  readonly faults: readonly { readonly path: string; readonly message: string }[];
  /** With defaults filled in; null where there are faults. */
  readonly content: RuleSet | null;
}

let schema: Promise<RuleSchema> | null = null;

/** Asked once: it changes with the program alone. */
export function rulesSchema(): Promise<RuleSchema> {
  schema ??= ask<RuleSchema>('GET', '/rules/schema').then(({ body }) => body);
  schema.catch(() => void (schema = null));
  return schema;
}

/** The newest hundred. */
export const listRules = async (): Promise<Page<RulesListed>> => (await ask<Page<RulesListed>>('GET', '/rules?limit=100')).body;

export const readRules = async (id: string): Promise<RulesVersion> => (await ask<RulesVersion>('GET', `/rules/${id}`)).body;

export const checkRules = async (content: unknown, signal?: AbortSignal): Promise<RulesChecked> => (await ask<RulesChecked>('POST', '/rules/check', { body: { content }, ...(signal !== undefined && { signal }) })).body;

export const addRules = (added: { name: string; content: unknown; note: string; basedOn?: string }): Promise<Answer<RulesVersion>> => ask<RulesVersion>('POST', '/rules', { body: added });

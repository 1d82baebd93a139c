import { jsonSha256 } from './digest.js';

/**
 * The key of a stage's result: it changes when the stage, what the stage reads of the rules and the call, or any result
 * that it builds on changes, and at no other time.
 */
export const stageKey = (name: string, version: number, before: readonly string[], reads: unknown): string =>
  jsonSha256({ name, version, before, reads });

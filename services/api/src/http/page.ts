import { and, desc, lt, or, eq } from 'drizzle-orm';
import type { SQL } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';
import { z } from 'zod';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { textFaults } from '@cast-to-last/runtime/records/text-faults';
import { unusable } from './problem.js';

/** Query of every list: so many, after the place where the page before ended. */
export const pageQuery = { limit: z.coerce.number().int().min(1).max(200).default(50), after: z.string().max(200).optional() };

/** Query of a list that is looked through by time and by text. */
export const searchQuery = { ...pageQuery, from: instantText.optional(), to: instantText.optional(), search: z.string().trim().min(1).max(100).optional() };

/** One value of a choice, or several with commas between them. */
export const oneOrMore = <const Values extends readonly [string, ...string[]]>(values: Values) =>
  z.string().min(1).max(200).transform((text) => text.split(',')).pipe(z.array(z.enum(values)).min(1)).meta({ description: `One of, or several with commas: ${values.join(', ')}.` });

export interface PageQuery {
  readonly limit: number;
  readonly after?: string | undefined;
}

export interface Page<T> {
  readonly items: readonly T[];
  /** For `after` of the next page; null where this is the last. */
  readonly next: string | null;
}

const place = z.tuple([instantText, z.string().max(100).refine((id) => textFaults(id).length === 0)]);

function placeOf(after: string): z.output<typeof place> {
  try {
    return place.parse(JSON.parse(Buffer.from(after, 'base64url').toString()));
  } catch {
    throw unusable([{ path: 'after', message: 'is no place in a list; use `next` of the page before' }]);
  }
}

/** Newest first: the order, and the condition that leaves out what the pages before showed. */
export function newestFirst(columns: { readonly createdAt: PgColumn; readonly id: PgColumn }, { after }: PageQuery): { where: SQL | undefined; orderBy: SQL[] } {
  const orderBy = [desc(columns.createdAt), desc(columns.id)];
  if (after === undefined) return { where: undefined, orderBy };
  const [createdAt, id] = placeOf(after);
  return { where: or(lt(columns.createdAt, createdAt), and(eq(columns.createdAt, createdAt), lt(columns.id, id))), orderBy };
}

/** A page from `limit + 1` rows: the one too many says that there are more. */
export function pageOf<Row extends { readonly createdAt: string; readonly id: string }, T = Row>(rows: readonly Row[], { limit }: PageQuery, show: (row: Row) => T): Page<T> {
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return {
    items: shown.map(show),
    next: rows.length > limit && last !== undefined ? Buffer.from(JSON.stringify([last.createdAt, last.id])).toString('base64url') : null,
  };
}

/** A pattern for ILIKE that finds a text as it is written, anywhere. */
export const anywhere = (text: string): string => `%${text.replaceAll(/[\\%_]/g, (c) => `\\${c}`)}%`;

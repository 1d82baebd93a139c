import type { SheetWords } from '@cast-to-last/sheet/words/sheet-words';
import { figureWithUnit } from '../report/reading-row.js';
import type { Finding } from '../records.js';

/** A catalogue's label of an id; undefined where it has none. */
export const knownLabel = (labels: object, id: string): string | undefined => (Object.hasOwn(labels, id) ? (labels as Readonly<Record<string, string>>)[id] : undefined);

/** Of a measure or of a reading. */
export const figureLabel = (id: string, { measureLabels, readingLabels }: SheetWords): string | undefined => knownLabel(measureLabels, id) ?? knownLabel(readingLabels, id);

/** Decimal points as the language writes them. */
export const withDecimals = (text: string, { decimal }: SheetWords): string => text.replaceAll(/(\d)\.(\d)/g, `$1${decimal}$2`);

/** What a finding says in the language of the words. */
export function findingText({ code, value, limit, unit, uncertainty, text }: Finding, words: SheetWords): string {
  const figure = (of: number | null, around: number | null): string => (of === null ? '' : withDecimals(figureWithUnit(of, unit, around), words));
  return words.finding({ code, value: figure(value, uncertainty), limit: figure(limit, null), text });
}

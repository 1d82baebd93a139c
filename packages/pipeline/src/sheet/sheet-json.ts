import type { SheetContent } from '@cast-to-last/sheet/measurement/content';
import type { SheetHeader } from './sheet-content.js';
import type { SheetShapes } from './sheet-shapes.js';

/** Decimals kept of drawn lines, mm. */
const DECIMALS = 2;
const rounded = (value: number): number => Number(value.toFixed(DECIMALS));

/**
 * sheet.json: all that stands on the sheet, and what it takes to draw it anew beside report.json, cleaned.stl and last.stl:
 * what the host put on it, where the tapes and the feather line lie, and the ground of each mark.
 * packages/pipeline/schema/sheet.schema.json describes it.
 */
export function sheetJson(content: SheetContent, header: SheetHeader, { stations, featherLine, markPoints }: SheetShapes): string {
  const { outlines, sections, map, ...said } = content;
  const drawn = {
    header,
    stations: stations.map(({ id, on, line }) => ({ id, on, line: Array.from(line, rounded) })),
    featherLine: Array.from(featherLine, rounded),
    markPoints: Object.fromEntries([...markPoints].map(([id, points]) => [id, Array.from(points, rounded)])),
  };
  const written = { schema: 1, ...said, drawings: { outlines, sections, map }, drawn };
  return `${JSON.stringify(written, (_, value: unknown) => (value instanceof Float64Array ? Array.from(value, rounded) : value))}\n`;
}

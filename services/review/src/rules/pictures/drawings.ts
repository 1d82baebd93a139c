import { CHECK_DRAWINGS } from './check-drawings.js';
import type { Drawing } from './drawing.js';
import { LAST_DRAWINGS, MAKING_DRAWINGS } from './last-drawings.js';

/** The picture of each rule, by its pattern. */
export const DRAWINGS: Readonly<Record<string, Drawing>> = { ...LAST_DRAWINGS, ...MAKING_DRAWINGS, ...CHECK_DRAWINGS };

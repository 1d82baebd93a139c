import { InvalidArgumentError } from 'commander';
import { GRADE_SYSTEMS } from '@cast-to-last/foot/published/grading';
import type { GradeSystem } from '@cast-to-last/foot/published/grading';
import type { GradeAsk } from '@cast-to-last/pipeline/remake/grade-last';
import { numberOf } from './arguments.js';
import { WrongCall } from './wrong-call.js';

/** More lasts than this are no run of one shoe. */
const MOST_LASTS = 60;

export interface GradeCallOptions {
  readonly system?: GradeSystem;
  readonly sizes?: readonly number[];
  readonly widths?: readonly number[];
  readonly girthStep?: number;
  readonly widthStep?: number;
  readonly length?: number;
  readonly ball?: number;
  readonly waist?: number;
  readonly instep?: number;
}

export const SYSTEMS = Object.keys(GRADE_SYSTEMS);

/** Steps: `-1,0,0.5` or `-2..3`. */
export function parseSteps(text: string): number[] {
  const run = /^(-?\d+)\.\.(-?\d+)$/.exec(text.trim());
  const steps = run === null ? text.split(',').map(numberOf) : runOf(Number(run[1]), Number(run[2]));
  if (steps.length === 0 || steps.some((step) => !(Math.abs(step) <= 20) || !Number.isInteger(2 * step))) {
    throw new InvalidArgumentError('They must be whole or half steps from -20 to 20, as in -1,0,1.5 or -2..3.');
  }
  return [...new Set(steps)].sort((a, b) => a - b);
}

const runOf = (from: number, to: number): number[] => (to < from || to - from > 40 ? [NaN] : Array.from({ length: to - from + 1 }, (_, i) => from + i));

/** A length or girth, mm. */
export function parseMillimetres(text: string): number {
  const value = numberOf(text);
  if (!(value > 0 && value <= 600)) throw new InvalidArgumentError('It must be a number of millimetres above 0, at most 600.');
  return value;
}

/** The lasts that a call asks for: every size in every width, or one by its tape. Throws WrongCall where it asks for neither or both. */
export function asksOf({ system, sizes, widths, girthStep, widthStep, length, ball, waist, instep }: GradeCallOptions): GradeAsk[] {
  const byTape = [length, ball, waist, instep].some((target) => target !== undefined);
  const bySteps = sizes !== undefined || widths !== undefined;
  if (byTape === bySteps) throw new WrongCall('Say either --sizes and --widths, or --length and --ball.');
  if (byTape) {
    if (length === undefined || ball === undefined) throw new WrongCall('A last by its tape takes --length and --ball; --waist and --instep may be left out.');
    return [{ name: 'by-tape', targets: { length, ball, ...(waist === undefined ? {} : { waist }), ...(instep === undefined ? {} : { instep }) } }];
  }
  if (system === undefined) throw new WrongCall(`Say with --system in which sizes: ${SYSTEMS.join(', ')}.`);
  const asks = (sizes ?? [0]).flatMap((size) => (widths ?? [0]).map((width) => ({ name: `${system}${signed(size)}-width${signed(width)}`, step: { system, sizes: size, widths: width, girthStepMm: girthStep, widthStepMm: widthStep } })));
  if (asks.length > MOST_LASTS) throw new WrongCall(`${asks.length} lasts are asked for; ${MOST_LASTS} at most are made at once.`);
  return asks;
}

const signed = (step: number): string => (step < 0 ? `${step}` : `+${step}`);

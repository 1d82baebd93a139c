import { Help, InvalidArgumentError, Option } from 'commander';
import { isCalendarDate } from '@cast-to-last/pipeline/order';

/** The number that a text is, NaN where it is none. */
export const numberOf = (text: string): number => (text.trim() === '' ? NaN : Number(text));

/** A length between two bounds, mm. */
export const millimetres = (least: number, most: number) => (text: string): number => {
  const value = numberOf(text);
  if (!(value >= least && value <= most)) throw new InvalidArgumentError(`It must be a number of millimetres from ${least} to ${most}.`);
  return value;
};

/** A day of the calendar, YYYY-MM-DD. */
export function calendarDate(text: string): string {
  if (!isCalendarDate(text)) throw new InvalidArgumentError('It must be a date, YYYY-MM-DD.');
  return text;
}

/** `--unit` of a file's coordinates; `meaning` says what `auto` does. */
export const unitOption = (meaning: string): Option => new Option('--unit <unit>', meaning).choices(['auto', 'mm', 'cm', 'm', 'in']).default('auto');

/** What the help says of an option: its meaning, whether it has to be given, and its default where that is more than off. */
export function describeOption(option: Option): string {
  const said = option.defaultValue === false ? option.description : new Help().optionDescription(option);
  return option.mandatory ? `${said} (always needed)` : said;
}

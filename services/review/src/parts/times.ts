import { signal } from '@preact/signals';

/** The present instant in ms, once every half minute: what shows how long something lasts is drawn anew with it. */
export const present = signal(Date.now());
setInterval(() => {
  present.value = Date.now();
}, 30_000);

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** A length of time in its largest fitting unit: 5 min, 3 h, 12 days. */
export function lasting(ms: number): string {
  const past = Math.max(0, ms);
  if (past < MINUTE) return 'under 1 min';
  if (past < HOUR) return `${Math.round(past / MINUTE)} min`;
  if (past < 2 * DAY) return `${Math.round(past / HOUR)} h`;
  return `${Math.round(past / DAY)} days`;
}

/** Days and times are written one way on every screen, whatever the browser's own: the words round them are English, too. */
const written = (options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat => new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', ...options });
const DAY_ALONE = written({ year: 'numeric' });
const WITH_TIME = written({ year: 'numeric', hour: '2-digit', minute: '2-digit' });
const WITHOUT_YEAR = written({ hour: '2-digit', minute: '2-digit' });

export const day = (iso: string): string => DAY_ALONE.format(new Date(iso));
export const time = (iso: string): string => WITH_TIME.format(new Date(iso));
/** A time of these weeks. */
export const atTime = (iso: string): string => WITHOUT_YEAR.format(new Date(iso));

/** How long ago, told anew as time goes by. */
export const ago = (iso: string): string => lasting(present.value - Date.parse(iso));

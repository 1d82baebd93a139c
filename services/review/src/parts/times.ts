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

const dayAndTime = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
const dayAlone = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', year: 'numeric' });

export const atTime = (iso: string): string => dayAndTime.format(new Date(iso));
export const onDay = (iso: string): string => dayAlone.format(new Date(iso));

/** How long ago, told anew as time goes by. */
export const ago = (iso: string): string => lasting(present.value - Date.parse(iso));

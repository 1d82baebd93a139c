import { z } from 'zod';

/** An instant that comes from outside, as ISO text in UTC. ISO has a year 0, the calendar of the database has none. */
export const instantText = z.iso.datetime().refine((text) => !text.startsWith('0000'), 'must be in a year after 0000');

import { z } from 'zod';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import { CastError } from './errors.js';
import { refuseBadKeys } from './refuse-bad-keys.js';

const isoDate = z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD');

function isCalendarDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

const millimetres = (least: number, most: number) =>
  z.number().min(least, `must be at least ${least} mm`).max(most, `must be at most ${most} mm`);
const degrees = (most: number) => z.number().min(-most, `must be at least -${most} degrees`).max(most, `must be at most ${most} degrees`);

/** The hinged footbed as it was measured. Heights over the floor; lengths along the plates. */
const footbed = z
  .strictObject({
    heelHeightMm: millimetres(0, 150),
    hingeHeightMm: millimetres(0, 150).default(0),
    toeHeightMm: millimetres(0, 150).default(0),
    heelToHingeMm: millimetres(80, 320),
    hingeToToeMm: millimetres(30, 200),
  })
  .refine((b) => Math.abs(b.heelHeightMm - b.hingeHeightMm) < 0.7 * b.heelToHingeMm, { path: ['heelHeightMm'], message: 'is too steep for heelToHingeMm' })
  .refine((b) => Math.abs(b.toeHeightMm - b.hingeHeightMm) < 0.9 * b.hingeToToeMm, { path: ['toeHeightMm'], message: 'is too steep for hingeToToeMm' });

/** What was agreed with the customer about how the leg stands, in place of the rule set's. */
const plan = z.strictObject({
  /** Top of the shank to the toes positive. */
  forwardLeanDeg: degrees(30).optional(),
  /** Top of the Achilles line towards the inner side positive: knees let out are negative. */
  rearViewDeg: degrees(20).optional(),
  note: z.string().trim().min(1).max(300).optional(),
});

const plaster = z.strictObject({
  layers: z.int().min(1).max(40).optional(),
  /** Measured at the cut edge. */
  wallMm: millimetres(0.5, 30).optional(),
});

const drying = z.strictObject({ how: z.string().trim().min(1).max(200).optional(), hours: z.number().min(0).max(2000).optional() });

const measureIds = Object.keys(MEASURE_LABELS) as (keyof typeof MEASURE_LABELS)[];
/** The customer's own tape: measure ids to mm. */
const tape = z.partialRecord(z.enum(measureIds), millimetres(5, 600));

const order = z.strictObject({
  /** The workshop's number; the sheet shows it. Never a name. */
  orderNumber: z.string().trim().min(1, 'must not be empty').max(80),
  /** The feet that are ordered; a scan of another side is refused. Both where absent. */
  sides: z.array(z.enum(['left', 'right'])).min(1).max(2).optional(),
  customerNumber: z.string().trim().min(1).max(80).optional(),
  /** Printed on the sheet. */
  remarks: z.string().trim().min(1).max(2000).optional(),
  /** The sheet's date; today where absent. */
  date: isoDate.optional(),
  /** What the footwear is for; names the limits of the rule set under check.disciplines. */
  discipline: z.string().trim().min(1).max(60).optional(),
  footbed: footbed.optional(),
  /** The weight that stood on the foot while the plaster set. */
  load: z.enum(['none', 'seated', 'half', 'full']).optional(),
  plan: plan.optional(),
  plaster: plaster.optional(),
  drying: drying.optional(),
  tape: z.strictObject({ left: tape.optional(), right: tape.optional() }).optional(),
});

export type Order = z.output<typeof order>;
export type Footbed = z.output<typeof footbed>;

/** What an order says of how the cast was taken: all that the cast check reads of it. */
export type Casting = Pick<Order, 'discipline' | 'footbed' | 'load' | 'plan' | 'plaster' | 'drying' | 'tape'>;

export function castingOf({ discipline, footbed, load, plan, plaster, drying, tape }: Order): Casting {
  return { discipline, footbed, load, plan, plaster, drying, tape };
}

/** The order in a parsed JSON value. Throws CastError `bad-order` naming the path of every bad key. */
export function parseOrder(json: unknown): Order {
  const parsed = order.safeParse(json);
  if (parsed.success) return parsed.data;
  throw refuseBadKeys('bad-order', 'The order file', 'the README shows its form', parsed.error.issues);
}

/** Throws CastError `side-not-ordered` where the order is for the other foot alone. */
export function refuseSideNotOrdered({ orderNumber, sides }: Order, side: 'left' | 'right'): void {
  if (sides === undefined || sides.includes(side)) return;
  throw new CastError(
    'side-not-ordered',
    `Order ${orderNumber} is for the ${sides.join(' and ')} foot, but the scan was booked in as ${side}.`,
    'Check the label on the cast, then mend --side or the order file.',
  );
}

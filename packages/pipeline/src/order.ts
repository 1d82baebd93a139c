import { z } from 'zod';
import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import type { MeasureId } from '@cast-to-last/foot/measures';
import { CastError } from './errors.js';
import { range } from './number-range.js';
import { refuseBadKeys } from './refuse-bad-keys.js';
import { WALL_MM } from './shell/wall-limits.js';

const isoDate = z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD');

/** Whether a text is a day of the calendar, YYYY-MM-DD. */
export function isCalendarDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

const millimetres = (least: number, most: number) => range(least, most, 'mm');
const degrees = (most: number) => range(-most, most, 'degrees');
const text = (most: number) => z.string().trim().min(1, 'must not be empty').max(most, `must not be longer than ${most} characters`);

/** Steepest plates that are believed, as height over length: some 44 and 64 degrees. */
const STEEPEST = { rear: 0.7, front: 0.9 } as const;

/** The hinged footbed as it was measured. Heights over the floor; lengths along the plates. */
const footbed = z
  .strictObject({
    /** Of the plate under the heel's end. */
    heelHeightMm: millimetres(0, 150),
    hingeHeightMm: millimetres(0, 150).default(0),
    /** Of the plate at the toes' end. */
    toeHeightMm: millimetres(0, 150).default(0),
    heelToHingeMm: millimetres(80, 320),
    hingeToToeMm: millimetres(30, 200),
  })
  .refine((b) => Math.abs(b.heelHeightMm - b.hingeHeightMm) <= STEEPEST.rear * b.heelToHingeMm, {
    path: ['heelHeightMm'], message: 'the rear plate would be steeper than 44 degrees: heelHeightMm, hingeHeightMm and heelToHingeMm do not go together',
  })
  .refine((b) => Math.abs(b.toeHeightMm - b.hingeHeightMm) <= STEEPEST.front * b.hingeToToeMm, {
    path: ['toeHeightMm'], message: 'the front plate would be steeper than 64 degrees: toeHeightMm, hingeHeightMm and hingeToToeMm do not go together',
  });

/** What was agreed with the customer about how the leg stands, in place of the rule set's. */
const plan = z.strictObject({
  /** Lean of the shank against the floor's vertical, top to the toes positive. */
  forwardLeanDeg: degrees(30).optional(),
  /** Lean of the Achilles line in the rear view, top towards the inner side positive: knees let out are negative. */
  rearViewDeg: degrees(20).optional(),
  /** Why, in words; printed on the sheet. */
  note: text(300).optional(),
});

const plaster = z.strictObject({
  /** Layers of bandage, one on the other. */
  layers: z.int().min(1, 'must be at least 1').max(40, 'must be at most 40').optional(),
  /** Wall as measured at the cut edge. */
  wallMm: millimetres(WALL_MM.least, WALL_MM.most).optional(),
});

const drying = z.strictObject({
  how: text(200).optional(),
  hours: range(0, 2000, 'hours').optional(),
});

/** What a tape or rule gives of a foot, and the least that is believed, mm: a figure below it is in another unit. */
const TAPE_LEAST = {
  'foot-length': 100, 'medial-ball-length': 70, 'lateral-ball-length': 60, 'ball-girth': 100, 'ball-width': 40, 'foot-breadth': 40, 'heel-width': 25,
  'instep-height': 20, 'instep-girth': 100, 'waist-girth': 100, 'short-heel-girth': 130, 'long-heel-girth': 130, 'ankle-girth': 100, 'toe-height': 5,
  'arch-height': 1,
} as const satisfies Record<Exclude<MeasureId, 'ball-angle'>, number>;

export type TapeId = keyof typeof TAPE_LEAST;

/** The customer's own tape: measure ids to mm. */
const tape = z.partialRecord(z.enum(Object.keys(TAPE_LEAST) as TapeId[]), millimetres(0, 600)).superRefine((taken, context) => {
  for (const [id, value] of Object.entries(taken)) {
    const least = TAPE_LEAST[id as TapeId];
    if (value < least) context.addIssue({ code: 'custom', path: [id], message: `must be at least ${least} mm; is it in another unit?` });
  }
});

const order = z.strictObject({
  /** The workshop's number; the sheet shows it. Never a name. */
  orderNumber: text(80),
  /** The feet that are ordered; a scan of another side is refused. Both where absent. */
  sides: z.array(z.enum(['left', 'right'])).min(1, 'must name a side').max(2).refine((s) => new Set(s).size === s.length, 'names a side twice').optional(),
  customerNumber: text(80).optional(),
  /** Printed on the sheet. */
  remarks: text(2000).optional(),
  /** The sheet's date; today where absent. */
  date: isoDate.optional(),
  /** What the footwear is for: a name of check.disciplines in the rules; any other name has the limits of `other` there. */
  discipline: text(60).optional(),
  footbed: footbed.optional(),
  /** The weight that stood on the foot while the plaster set. */
  load: z.enum(['none', 'seated', 'half', 'full']).optional(),
  plan: plan.optional(),
  plaster: plaster.optional(),
  drying: drying.optional(),
  tape: z.strictObject({ left: tape.optional(), right: tape.optional() }).optional(),
});

export type Order = z.output<typeof order>;
export type Footbed = HingedFootbed & z.output<typeof footbed>;

/** What an order says of how the cast was taken: all that the cast check reads of it. */
export type Casting = Pick<Order, 'discipline' | 'footbed' | 'load' | 'plan' | 'plaster' | 'drying' | 'tape'>;

/** The same within a report. */
export const castingSchema = order.pick({ discipline: true, footbed: true, load: true, plan: true, plaster: true, drying: true, tape: true });

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

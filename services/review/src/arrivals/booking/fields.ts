import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { MeasureId } from '@cast-to-last/foot/measures';

/** One value of an order, by its path in the order's JSON. */
export interface OrderField {
  readonly label: string;
  readonly unit?: 'mm' | '°' | 'h';
  readonly hint?: string;
}

/** Measures that a tape or a rule gives; the ball's angle is none. */
export const TAPE_IDS = Object.keys(MEASURE_LABELS).filter((id): id is Exclude<MeasureId, 'ball-angle'> => id !== 'ball-angle');

const NUMBERS: Readonly<Record<string, OrderField>> = {
  'footbed.heelHeightMm': { label: 'Heel end', unit: 'mm', hint: 'height of the rear plate at its end' },
  'footbed.hingeHeightMm': { label: 'Hinge', unit: 'mm', hint: 'height; empty is 0' },
  'footbed.toeHeightMm': { label: 'Toe end', unit: 'mm', hint: 'height of the front plate; empty is 0' },
  'footbed.heelToHingeMm': { label: 'Heel to hinge', unit: 'mm', hint: 'along the rear plate' },
  'footbed.hingeToToeMm': { label: 'Hinge to toe', unit: 'mm', hint: 'along the front plate' },
  'plan.forwardLeanDeg': { label: 'Forward lean', unit: '°', hint: 'of the shank, top to the toes positive' },
  'plan.rearViewDeg': { label: 'Lean from behind', unit: '°', hint: 'top to the inner side positive' },
  'plaster.layers': { label: 'Layers of bandage' },
  'plaster.wallMm': { label: 'Wall at the cut edge', unit: 'mm' },
  'drying.hours': { label: 'Dried before it was posted', unit: 'h' },
  ...Object.fromEntries((['left', 'right'] as const).flatMap((side) => TAPE_IDS.map((id) => [`tape.${side}.${id}`, { label: `${MEASURE_LABELS[id]}, ${side}`, unit: 'mm' as const }]))),
};

const TEXTS: Readonly<Record<string, OrderField>> = {
  orderNumber: { label: 'Order number', hint: 'the workshop\'s number, never a name' },
  date: { label: 'Date' },
  discipline: { label: 'Made for' },
  remarks: { label: 'Remarks', hint: 'printed on the sheet' },
  load: { label: 'Weight on the foot' },
  'plan.note': { label: 'Why', hint: 'printed on the sheet' },
  'drying.how': { label: 'How it dried' },
  customerNumber: { label: 'Customer number' },
};

export const ORDER_FIELDS: Readonly<Record<string, OrderField>> = { ...TEXTS, ...NUMBERS };
export const isNumber = (path: string): boolean => Object.hasOwn(NUMBERS, path);

/** Values as they were typed, by path; `sides` is left, right or both. */
export type OrderValues = Readonly<Record<string, string>>;

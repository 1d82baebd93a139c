import { bedAngles } from '@cast-to-last/foot/footbed';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { Side } from '@cast-to-last/foot/side';
import type { SheetParticular } from '@cast-to-last/sheet/content';
import type { Casting, Footbed, TapeId } from './order.js';
import { figureWithUnit } from './reading-row.js';

const LOADS = { none: 'none', seated: "the seated leg's weight", half: 'half of the weight', full: 'the full weight' } as const;

/** What the order says of how the cast was taken, in words; nothing of what it leaves out. */
export function castingParticulars({ discipline, footbed, load, plan, plaster, drying, tape }: Casting, side: Side): SheetParticular[] {
  const taken = Object.entries(tape?.[side] ?? {}).map(([id, mm]) => `${MEASURE_LABELS[id as TapeId]} ${mm}`);
  const rows: readonly (readonly [string, string])[] = [
    ['Discipline', discipline ?? ''],
    ['Footbed', footbed === undefined ? '' : bedWords(footbed)],
    ['Load', load === undefined ? '' : LOADS[load]],
    ['Agreed', listed([angle('forward lean', plan?.forwardLeanDeg), angle('rear view', plan?.rearViewDeg), plan?.note])],
    ['Plaster', listed([plaster?.layers === undefined ? undefined : `${plaster.layers} layers`, plaster?.wallMm === undefined ? undefined : `wall ${plaster.wallMm} mm`])],
    ['Drying', listed([drying?.how, drying?.hours === undefined ? undefined : `${drying.hours} h`])],
    ['Own tape', taken.length === 0 ? '' : `${taken.join(', ')} (mm)`],
  ];
  return rows.filter(([, text]) => text !== '').map(([label, text]) => ({ label, text }));
}

const listed = (parts: readonly (string | undefined)[]): string => parts.filter((part) => part !== undefined).join(', ');
const angle = (of: string, deg: number | undefined): string | undefined => (deg === undefined ? undefined : `${of} ${figureWithUnit(deg, 'deg')}`);

function bedWords(bed: Footbed): string {
  const { heelPitch, toePitch } = bedAngles(bed);
  const deg = (radians: number): string => figureWithUnit((radians * 180) / Math.PI, 'deg');
  return `heel ${bed.heelHeightMm}, hinge ${bed.hingeHeightMm}, toes ${bed.toeHeightMm} mm; plates ${bed.heelToHingeMm} and ${bed.hingeToToeMm} mm: heel pitch ${deg(heelPitch)}, ` +
    `toe pitch ${deg(toePitch)}`;
}

import { bedAngles } from '@cast-to-last/foot/footbed';
import type { Side } from '@cast-to-last/foot/side';
import type { SheetParticular } from '@cast-to-last/sheet/measurement/content';
import type { SheetWords } from '@cast-to-last/sheet/words/sheet-words';
import type { Casting, Footbed, TapeId } from '../order.js';
import { figureWithUnit } from '../report/reading-row.js';

/** What the order says of how the cast was taken, in words; nothing of what it leaves out. */
export function castingParticulars({ discipline, footbed, load, plan, plaster, drying, tape }: Casting, side: Side, words: SheetWords): SheetParticular[] {
  const written = (value: number): string => String(value).replace('.', words.decimal);
  const angle = (deg: number): string => figureWithUnit(deg, 'deg').replace('.', words.decimal);
  const taken = Object.entries(tape?.[side] ?? {}).map(([id, mm]) => `${words.measureLabels[id as TapeId]} ${written(mm)}`);
  const given = <T>(value: T | undefined, say: (value: T) => string): string | undefined => (value === undefined ? undefined : say(value));
  const rows: readonly (readonly [string, string])[] = [
    [words.discipline, discipline ?? ''],
    [words.footbed, footbed === undefined ? '' : bedWords(footbed, words, written, angle)],
    [words.load, load === undefined ? '' : words.loads[load]],
    [words.agreed, listed([given(plan?.forwardLeanDeg, (deg) => words.agreedLean(angle(deg))), given(plan?.rearViewDeg, (deg) => words.agreedRear(angle(deg))), plan?.note])],
    [words.plaster, listed([given(plaster?.layers, words.layers), given(plaster?.wallMm, (mm) => words.wallOf(`${written(mm)} mm`))])],
    [words.drying, listed([drying?.how, given(drying?.hours, (hours) => `${written(hours)} h`)])],
    [words.ownTape, taken.length === 0 ? '' : `${taken.join(', ')} (mm)`],
  ];
  return rows.filter(([, text]) => text !== '').map(([label, text]) => ({ label, text }));
}

const listed = (parts: readonly (string | undefined)[]): string => parts.filter((part) => part !== undefined).join(', ');

function bedWords(bed: Footbed, words: SheetWords, written: (mm: number) => string, angle: (deg: number) => string): string {
  const { heelPitch, toePitch } = bedAngles(bed);
  const deg = (radians: number): string => angle((radians * 180) / Math.PI);
  return words.footbedOf(
    written(bed.heelHeightMm), written(bed.hingeHeightMm), written(bed.toeHeightMm), written(bed.heelToHingeMm), written(bed.hingeToToeMm), deg(heelPitch), deg(toePitch),
  );
}

import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { bedAngles } from '@cast-to-last/foot/footbed';

/** Lines, as pairs of points in the foot frame, with the words that stand beside them. */
export interface Plan {
  readonly faint: readonly number[];
  readonly strong: readonly number[];
  readonly words: readonly { readonly text: string; readonly at: readonly [number, number, number] }[];
}

/** The rest plane with a ruler from heel to toes, and the axes of the foot frame. */
export function framePlan(length: number, half: number): Plan {
  const end = Math.ceil(length / 10) * 10 + 10;
  const wide = Math.ceil(half / 10) * 10;
  const faint: number[] = [];
  const strong: number[] = [];
  const words: { text: string; at: [number, number, number] }[] = [];
  for (let x = 0; x <= end; x += 10) {
    (x % 50 === 0 ? strong : faint).push(x, -wide, 0, x, wide, 0);
    if (x % 50 === 0) words.push({ text: `${x}`, at: [x, -wide - 8, 0] });
  }
  for (let y = -wide; y <= wide; y += 10) (y === 0 ? strong : faint).push(0, y, 0, end, y, 0);
  strong.push(0, 0, 0, end + 20, 0, 0, 0, 0, 0, 0, wide + 20, 0, 0, 0, 0, 0, 0, 60);
  words.push({ text: 'X to the toes', at: [end + 24, 0, 0] }, { text: 'Y', at: [0, wide + 26, 0] }, { text: 'Z', at: [0, 0, 66] });
  return { faint, strong, words };
}

/** The hinged footbed as the order has it, under the cast: its rear plate is the rest plane, the floor lies below by the heights. */
export function footbedPlan(bed: HingedFootbed, half: number): Plan {
  const { heelPitch, bend } = bedAngles(bed);
  const w = half + 12;
  const hinge = bed.heelToHingeMm;
  const [tipX, tipZ] = [hinge + bed.hingeToToeMm * Math.cos(bend), bed.hingeToToeMm * Math.sin(bend)];
  const strong = [
    0, -w, 0, hinge, -w, 0, 0, w, 0, hinge, w, 0, 0, -w, 0, 0, w, 0, hinge, -w, 0, hinge, w, 0,
    hinge, -w, 0, tipX, -w, tipZ, hinge, w, 0, tipX, w, tipZ, tipX, -w, tipZ, tipX, w, tipZ,
  ];
  // A point of the foot frame lies over the floor by −sin(pitch)·x + cos(pitch)·z + the height of the heel's end.
  const onFloor = (x: number, z: number): [number, number] => {
    const over = -Math.sin(heelPitch) * x + Math.cos(heelPitch) * z + bed.heelHeightMm;
    return [x + Math.sin(heelPitch) * over, z - Math.cos(heelPitch) * over];
  };
  const faint: number[] = [];
  for (const y of [-w, w]) {
    for (const [x, z] of [[0, 0], [hinge, 0], [tipX, tipZ]]) {
      const [fx, fz] = onFloor(x, z);
      faint.push(x, y, z, fx, y, fz);
    }
    const [a, b] = [onFloor(0, 0), onFloor(tipX, tipZ)];
    faint.push(a[0], y, a[1], b[0], y, b[1]);
  }
  const deg = (angle: number): string => `${((angle * 180) / Math.PI).toFixed(1)}°`;
  return {
    faint, strong,
    words: [
      { text: `heel ${bed.heelHeightMm} mm`, at: [-6, -w, -bed.heelHeightMm / 2] },
      { text: `hinge, bend ${deg(bend)}`, at: [hinge, -w - 6, 0] },
      { text: `pitch ${deg(heelPitch)}`, at: [hinge / 2, -w - 6, 0] },
      { text: `toes ${bed.toeHeightMm} mm`, at: [tipX + 4, -w, tipZ] },
    ],
  };
}

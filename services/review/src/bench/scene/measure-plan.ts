import { medialSign } from '@cast-to-last/foot/side';
import type { ReportedMeasurement } from '@cast-to-last/pipeline/report/report';
import type { Side } from './foot-stand.js';

type Point = readonly [number, number, number];
type Taken = Extract<ReportedMeasurement, { value: number }>;

/** Lengths, widths and heights as on a drawing, as pairs of points in the foot frame. */
export interface MeasurePlan {
  /** From the places on the surface to where the measure is drawn. */
  readonly faint: readonly number[];
  /** The measures' own lines with a stroke at either end. */
  readonly strong: readonly number[];
  /** The places on the surface that they lie between. */
  readonly places: readonly Point[];
  /** Where each measure's word stands. */
  readonly words: readonly { readonly measured: Taken; readonly at: Point; readonly line: readonly [Point, Point] }[];
}

/** How far from the foot a measure's line lies, mm: each has its own, so that none lies on another. */
const BESIDE = { 'foot-length': 30, 'lateral-ball-length': 14, 'medial-ball-length': 8, 'foot-breadth': 16, 'heel-width': 14 } as const;
/** Half of the stroke at the end of a line, mm. */
const STROKE = 3.5;

/** Where the measures that have ends are drawn: lengths beside the foot, breadths before and behind it, all on the rest plane; heights upright. */
export function measurePlan(measurements: readonly ReportedMeasurement[], side: Side): MeasurePlan {
  const taken = measurements.filter((m): m is Taken => 'value' in m && m.ends !== undefined);
  const ends = (id: string): readonly Point[] => taken.find((m) => m.id === id)?.ends ?? [];
  const reach = (way: 1 | -1): number => Math.max(...[...ends('foot-breadth'), ...ends('ball-width')].map((p) => way * p[1]), 0);
  const medial = medialSign(side);
  const front = Math.max(...ends('foot-length').map(([x]) => x), 0);
  const faint: number[] = [];
  const strong: number[] = [];
  const places: Point[] = [];
  const words: { measured: Taken; at: Point; line: readonly [Point, Point] }[] = [];

  const draw = (measured: Taken, a: Point, b: Point, share = 0.5): void => {
    const [from, to] = measured.ends as readonly [Point, Point];
    const [dx, dy, dz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const level = Math.hypot(dx, dy);
    // Square to the line in the rest plane; an upright one has its strokes along the foot.
    const across: Point = level > Math.abs(dz) ? [(-dy / level) * STROKE, (dx / level) * STROKE, 0] : [STROKE, 0, 0];
    strong.push(...a, ...b);
    for (const end of [a, b]) strong.push(end[0] - across[0], end[1] - across[1], end[2] - across[2], end[0] + across[0], end[1] + across[1], end[2] + across[2]);
    for (const [place, end] of [[from, a], [to, b]] as const) {
      const under: Point = [place[0], place[1], end[2]];
      faint.push(...place, ...under, ...under, ...end);
      if (place[2] > 0) places.push(place);
    }
    words.push({ measured, at: [a[0] + share * dx, a[1] + share * dy, a[2] + share * dz], line: [a, b] });
  };

  for (const measured of taken) {
    const [a, b] = measured.ends as readonly [Point, Point];
    switch (measured.id) {
      case 'foot-length': case 'lateral-ball-length': case 'medial-ball-length': {
        const way = measured.id === 'medial-ball-length' ? medial : (-medial as 1 | -1);
        const y = way * (reach(way) + BESIDE[measured.id]);
        // The inner lines of a pair lie beside each other: their words do not.
        draw(measured, [a[0], y, 0], [b[0], y, 0], way !== medial ? 0.5 : side === 'left' ? 0.6 : 0.35);
        break;
      }
      case 'foot-breadth': case 'heel-width': {
        const x = measured.id === 'heel-width' ? -BESIDE[measured.id] : front + BESIDE[measured.id];
        draw(measured, [x, a[1], 0], [x, b[1], 0]);
        break;
      }
      case 'ball-width': draw(measured, [a[0], a[1], 0], [b[0], b[1], 0]); break;
      // Heights: upright through the upper of the two places.
      default: draw(measured, [b[0], b[1], a[2]], b);
    }
  }
  return { faint, strong, places, words };
}

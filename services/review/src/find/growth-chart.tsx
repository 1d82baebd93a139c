import { useEffect, useRef, useState } from 'preact/hooks';
import { figure, fixed } from '../parts/figures.js';
import { day } from '../parts/times.js';
import type { PlacedMeasure } from './history.js';

export interface GrowthChartProps {
  readonly sides: readonly { readonly side: 'left' | 'right'; readonly points: readonly PlacedMeasure[] }[];
  readonly label: string;
  readonly unit: string;
}

const HEIGHT = 340;
const ROOM = { left: 64, right: 24, top: 36, bottom: 40 };
const DAY_MS = 86_400_000;
const STEPS = [0.5, 1, 2, 5, 10, 20, 50, 100];
/** px to either side, where left and right were cast on one day. */
const APART = 4;

const timeOf = ({ cast }: PlacedMeasure): number => Date.parse(cast.day);

/** One measure over time: left as circles on a whole line, right as squares on a broken one, with bars of uncertainty. The table beside it says the same. */
export function GrowthChart({ sides, label, unit }: GrowthChartProps) {
  const field = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(640);
  useEffect(() => {
    const sized = new ResizeObserver(([entry]) => setWidth(Math.max(320, entry.contentRect.width)));
    if (field.current !== null) sized.observe(field.current);
    return () => sized.disconnect();
  }, []);
  const all = sides.flatMap(({ points }) => points);
  const times = all.map(timeOf);
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const pad = Math.max(30 * DAY_MS, (last - first) * 0.04);
  const [least, most] = [Math.min(...all.map(({ value, uncertainty }) => value - uncertainty)), Math.max(...all.map(({ value, uncertainty }) => value + uncertainty))];
  const step = STEPS.find((one) => (most - least) / one <= 6) ?? 100;
  const [bottom, top] = [Math.floor(least / step) * step, Math.max(Math.ceil(most / step) * step, Math.floor(least / step) * step + 2 * step)];
  const x = (at: number): number => ROOM.left + ((at - first + pad) / (last - first + 2 * pad)) * (width - ROOM.left - ROOM.right);
  const y = (value: number): number => HEIGHT - ROOM.bottom - ((value - bottom) / (top - bottom)) * (HEIGHT - ROOM.top - ROOM.bottom);
  const levels = Array.from({ length: Math.round((top - bottom) / step) + 1 }, (_, i) => bottom + i * step);
  const years = yearsBetween(first - pad, last + pad);
  const every = Math.max(1, Math.ceil((years.length * 56) / (width - ROOM.left - ROOM.right)));
  return (
    <div ref={field} class="growth-chart">
      {all.length > 0 && (
        <svg width={width} height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`} role="img" aria-label={`${label} of left and right over time; the table has the numbers`}>
          {levels.map((value) => <g key={value}><path class="level" d={`M${ROOM.left} ${y(value)}H${width - ROOM.right}`} /><text x={ROOM.left - 8} y={y(value) + 5} text-anchor="end">{figure(value)}</text></g>)}
          {years.filter((_, i) => i % every === 0).map((at) => <g key={at}><path class="level" d={`M${x(at)} ${ROOM.top}V${HEIGHT - ROOM.bottom}`} /><text x={x(at)} y={HEIGHT - ROOM.bottom + 22} text-anchor="middle">{new Date(at).getUTCFullYear()}</text></g>)}
          <text x={8} y={20}>{label}, {unit}</text>
          {sides.map(({ side, points }, i) => points.length > 0 && (
            <g key={side} class={side}>
              <path class="line" d={points.map((point, k) => `${k === 0 ? 'M' : 'L'}${x(timeOf(point)) + (i === 0 ? -APART : APART)} ${y(point.value)}`).join('')} />
              {points.map((point) => <Point key={point.cast.castId} point={point} side={side} unit={unit} at={x(timeOf(point)) + (i === 0 ? -APART : APART)} y={y} />)}
            </g>
          ))}
          <g class="left" transform={`translate(${width - 190}, 15)`}><circle r={6} class="point" /><text x={12} y={5}>left</text></g>
          <g class="right" transform={`translate(${width - 110}, 15)`}><rect x={-6} y={-6} width={12} height={12} class="point" /><text x={12} y={5}>right</text></g>
        </svg>
      )}
    </div>
  );
}

function Point({ point, side, unit, at, y }: { readonly point: PlacedMeasure; readonly side: 'left' | 'right'; readonly unit: string; readonly at: number; readonly y: (value: number) => number }) {
  const { value, uncertainty, cast } = point;
  const [low, high] = [y(value - uncertainty), y(value + uncertainty)];
  return (
    <g>
      <title>{`${side}, ${day(cast.day)}: ${fixed(value)} ± ${fixed(uncertainty)} ${unit}`}</title>
      <path class="doubt" d={`M${at} ${low}V${high}M${at - 4} ${low}H${at + 4}M${at - 4} ${high}H${at + 4}`} />
      {side === 'left' ? <circle class="point" cx={at} cy={y(value)} r={6} /> : <rect class="point" x={at - 6} y={y(value) - 6} width={12} height={12} />}
    </g>
  );
}

/** The first days of the years that lie between two instants. */
function yearsBetween(from: number, to: number): number[] {
  const out: number[] = [];
  for (let year = new Date(from).getUTCFullYear(); Date.UTC(year, 0, 1) <= to; year++) if (Date.UTC(year, 0, 1) >= from) out.push(Date.UTC(year, 0, 1));
  return out;
}

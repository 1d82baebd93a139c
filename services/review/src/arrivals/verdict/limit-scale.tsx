import type { Finding, Reading } from '@cast-to-last/pipeline/records';
import { figureWithUnit } from '@cast-to-last/pipeline/report/reading-row';

export interface LimitScaleProps {
  readonly finding: Pick<Finding, 'value' | 'limit' | 'unit' | 'uncertainty'>;
  readonly reading: Reading | null;
}

const WIDTH = 360;
const BAR = 14;
const TOP = 24;
/** Between two numbers of the scale. */
const NEAREST = 26;

/** A value against its limits, drawn small: what is in order, what needs care, what asks for a new cast, and the value with its uncertainty. */
export function LimitScale({ finding: { value, limit, unit, uncertainty }, reading }: LimitScaleProps) {
  if (value === null) return null;
  const care = reading?.care ?? null;
  const recast = reading?.recast ?? null;
  if (care === null && recast === null) return limit === null ? null : <p class="small quiet">{figureWithUnit(value, unit, uncertainty)}, limit {figureWithUnit(limit, unit)}</p>;
  const wanted = reading?.wanted ?? null;
  // A limit of a new cast below that of care: less is worse, and the limits are values, not deviations.
  const lessIsWorse = wanted === null && care !== null && recast !== null && recast < care;
  const middle = wanted ?? 0;
  const outer = Math.max(care ?? 0, recast ?? 0);
  // A share or an area is never less than nothing.
  const twoSided = value < 0 || (wanted !== null && !(wanted === 0 && (unit === '%' || unit === 'mm²')));
  const reach = Math.max(outer * 1.35, Math.abs(value - middle) * 1.12 + (uncertainty ?? 0), 1e-9);
  const [from, to] = lessIsWorse ? [Math.min(value, recast) * 0.8, Math.max(value, care) * 1.25] : [twoSided ? middle - reach : 0, middle + reach];
  const x = (v: number): number => 8 + ((Math.max(from, Math.min(to, v)) - from) / (to - from)) * (WIDTH - 16);
  const zone = (a: number, b: number, kind: string) => <rect key={`${kind}${a}`} class={`scale-zone zone-${kind}`} x={x(a)} y={TOP} width={Math.max(0, x(b) - x(a))} height={BAR} />;
  const edges: readonly (readonly [number, number, string])[] = lessIsWorse
    ? [[from, recast, 'bad'], [recast, care, 'care'], [care, to, 'good']]
    : [[0, care ?? recast ?? 0, 'good'], [care ?? recast ?? 0, recast ?? reach, 'care'], [recast ?? reach, reach, 'bad']];
  const zones = edges.flatMap(([a, b, kind]) => (lessIsWorse ? [zone(a, b, kind)] : [zone(middle + a, middle + b, kind), twoSided && zone(middle - b, middle - a, `${kind} zone-below`)]));
  const ticks = lessIsWorse ? [recast, care] : [care, recast].flatMap((l) => (l === null ? [] : twoSided ? [middle - l, middle + l] : [middle + l])).filter((v) => v > from && v < to);
  // Where numbers would run into each other, the outermost stay.
  const shown = ticks.toSorted((a, b) => Math.abs(b - middle) - Math.abs(a - middle)).filter((v, i, all) => all.slice(0, i).every((other) => Math.abs(x(v) - x(other)) > NEAREST));
  const says = `${figureWithUnit(value, unit, uncertainty)}${wanted === null || !twoSided ? '' : `, wanted ${figureWithUnit(wanted, unit)}`}${care === null ? '' : lessIsWorse ? `, care below ${figureWithUnit(care, unit)}` : `, care beyond ${figureWithUnit(care, unit)}`}${recast === null ? '' : lessIsWorse ? `, new cast below ${figureWithUnit(recast, unit)}` : `, new cast beyond ${figureWithUnit(recast, unit)}`}`;
  const at = x(value);
  return (
    <figure class="limit-scale">
      <svg viewBox={`0 0 ${WIDTH} 58`} role="img" aria-label={says}>
        {zones}
        {wanted !== null && twoSided && <line class="scale-wanted" x1={x(wanted)} x2={x(wanted)} y1={TOP - 3} y2={TOP + BAR + 3} />}
        {shown.map((v) => <text key={v} class="scale-tick" x={x(v)} y={TOP + BAR + 15} text-anchor="middle">{figureWithUnit(v, '').replace(/\.0+$/, '')}</text>)}
        {uncertainty !== null && <line class="scale-doubt" x1={x(value - uncertainty)} x2={x(value + uncertainty)} y1={TOP + BAR / 2} y2={TOP + BAR / 2} />}
        <path class="scale-value" d={`M${at} ${TOP + BAR + 1}V${TOP - 5}l-5 -6h10l-5 6`} />
        <text class="scale-figure" x={Math.max(30, Math.min(WIDTH - 30, at))} y={9} text-anchor="middle">{figureWithUnit(value, unit)}</text>
      </svg>
      <figcaption class="small quiet">{says}</figcaption>
    </figure>
  );
}

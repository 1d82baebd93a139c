import { agreement } from './statistics.js';

/** Plots as SVG text. All colours come from the page's style; shape and number say the same. */

const escape = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');

export interface Strip {
  readonly name: string;
  readonly values: readonly number[];
  /** ± limit that single values are held to; null where there is none. */
  readonly limit: number | null;
}

const LEFT = 190;
const WIDTH = 560;
const ROW = 34;

/** One row a measure: each difference a dot, the bias a bar, limits of agreement as whiskers, the limit as a band. */
export function stripPlot(title: string, unit: string, strips: readonly Strip[], reach: number): string {
  const x = (value: number): number => LEFT + WIDTH * (0.5 + Math.max(-1, Math.min(1, value / reach)) / 2);
  const height = strips.length * ROW + 62;
  const rows = strips.map(({ name, values, limit }, i) => {
    const y = 20 + i * ROW + ROW / 2;
    const { bias, low, high, count } = agreement(values);
    const dots = values.map((v, k) => `<circle class="dot${Math.abs(v) > (limit ?? Infinity) ? ' out' : ''}" cx="${x(v).toFixed(1)}" cy="${(y + ((k * 7919) % 17) - 8).toFixed(1)}" r="1.8"/>`).join('');
    const band = limit === null ? '' : `<rect class="band" x="${x(-limit)}" y="${y - ROW / 2 + 3}" width="${x(limit) - x(-limit)}" height="${ROW - 6}"/>`;
    return `${band}<text class="name" x="${LEFT - 10}" y="${y + 4}" text-anchor="end">${escape(name)} (${count})</text>${dots}<path class="whisker" d="M${x(low)} ${y}H${x(high)}M${x(low)} ${y - 6}v12M${x(high)} ${y - 6}v12"/><path class="bias" d="M${x(bias)} ${y - 11}v22"/>`;
  });
  const ticks = Array.from({ length: 9 }, (_, i) => -reach + (i * reach) / 4);
  const axis = ticks.map((t) => `<path class="grid" d="M${x(t)} 16V${height - 42}"/><text class="tick" x="${x(t)}" y="${height - 26}" text-anchor="middle">${Number(t.toFixed(2))}</text>`).join('');
  return svg(title, LEFT + WIDTH + 20, height, `${axis}${rows.join('')}<text class="tick" x="${LEFT + WIDTH + 16}" y="${height - 6}" text-anchor="end">program − truth, ${unit}; beyond the edge is drawn at it</text>`);
}

export interface Bar {
  readonly name: string;
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  /** Written behind the bar. */
  readonly text: string;
}

/** Level bars on one scale, with intervals where given and a line at what is aimed at. */
export function barPlot(title: string, bars: readonly Bar[], most: number, aim: number | null): string {
  const x = (value: number): number => LEFT + (WIDTH - 90) * Math.min(1, value / most);
  const height = bars.length * 28 + 30;
  const rows = bars.map(({ name, value, low, high, text }, i) => {
    const y = 12 + i * 28;
    const interval = low === undefined || high === undefined ? '' : `<path class="whisker" d="M${x(low)} ${y + 10}H${x(high)}M${x(low)} ${y + 5}v10M${x(high)} ${y + 5}v10"/>`;
    return `<text class="name" x="${LEFT - 10}" y="${y + 14}" text-anchor="end">${escape(name)}</text><rect class="bar" x="${LEFT}" y="${y}" width="${Math.max(0, x(value) - LEFT)}" height="20"/>${interval}<text class="tick" x="${LEFT + WIDTH - 84}" y="${y + 14}">${escape(text)}</text>`;
  });
  const line = aim === null ? '' : `<path class="aim" d="M${x(aim)} 6V${height - 18}"/><text class="tick" x="${x(aim)}" y="${height - 4}" text-anchor="middle">aim ${aim}</text>`;
  return svg(title, LEFT + WIDTH + 20, height, rows.join('') + line);
}

const svg = (title: string, width: number, height: number, inner: string): string =>
  `<figure><figcaption>${escape(title)}</figcaption><svg viewBox="0 0 ${width} ${height}" role="img" aria-label="${escape(title)}">${inner}</svg></figure>`;

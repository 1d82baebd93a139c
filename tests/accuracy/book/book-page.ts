import { barPlot, stripPlot } from './plots.js';
import { quantile } from '../../support/statistics.js';
import { agreement } from './statistics.js';
import type { BookFigures, Share } from './summary.js';
import { unitOf } from './summary.js';

/** Limits that single measures are held to, mm. */
const LENGTHS = new Set(['foot-length', 'medial-ball-length', 'lateral-ball-length', 'ball-width', 'foot-breadth', 'heel-width']);
export const limitOf = (id: string): number | null => (LENGTHS.has(id) ? 0.5 : id.endsWith('-girth') ? 1 : null);

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
const percent = ({ found, of }: Share): string => (of === 0 ? 'none planted' : `${((100 * found) / of).toFixed(0)} % (${found}/${of})`);

/** The whole book as one HTML page, with its plots inside it. `made` says of what, when and on which machine; `whole` names the setting compared with. */
export function bookPage(figures: BookFigures, made: string, whole: string): string {
  const { left, elsewhere, falseMarks, falseOnBare, again, depthErrors, frameRms } = figures;
  const lengths = figures.measures.filter(({ id }) => unitOf(id) === 'mm');
  const angles = figures.measures.filter(({ id }) => unitOf(id) === '°');
  const strips = (rows: typeof lengths) => rows.map(({ id, differences }) => ({ name: id, values: differences, limit: limitOf(id) }));
  const most = (values: readonly number[]): string => [0, 1, 2, 3].map((n) => `${values.filter((v) => (n === 3 ? v >= 3 : v === n)).length} casts with ${n === 3 ? '3 or more' : n}`).join(', ');
  return `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Accuracy book</title>
<style>
:root { color-scheme: light dark; --ink: #1d2326; --ground: #fbfaf5; --line: #cdc6b6; --dot: #0c5358; --out: #98202c; --band: #dce9e7; }
@media (prefers-color-scheme: dark) { :root { --ink: #ece8de; --ground: #14181a; --line: #3a4043; --dot: #6cc4bf; --out: #ff9d95; --band: #1f3436; } }
body { max-width: 60rem; margin: 2rem auto; padding: 0 1rem; font: 1rem/1.5 system-ui, sans-serif; color: var(--ink); background: var(--ground); }
table { border-collapse: collapse; margin: 1rem 0; } td, th { padding: .25rem .75rem; border-bottom: 1px solid var(--line); text-align: left; } td + td { text-align: right; font-variant-numeric: tabular-nums; }
figure { margin: 1.5rem 0; } figcaption { font-weight: 600; } svg { width: 100%; height: auto; } text { fill: var(--ink); font-size: 12px; }
.dot { fill: var(--dot); opacity: .6; } .dot.out { fill: var(--out); opacity: 1; } .band { fill: var(--band); } .grid { stroke: var(--line); } .bar { fill: var(--dot); opacity: .55; }
.whisker, .bias { stroke: var(--ink); fill: none; } .bias { stroke-width: 3; } .aim { stroke: var(--out); stroke-dasharray: 5 4; fill: none; }
</style>
<h1>Accuracy book</h1>
<p>${made}</p>
<h2>Measures</h2>
<p>Each dot is one cast. The bar is the bias, the whiskers are the limits of agreement (bias ± 1.96 SD; Bland and Altman 1986); dots beyond the shaded limit are red.</p>
${stripPlot('Lengths, widths, heights and girths', 'mm', strips(lengths), 2)}
${stripPlot('Angles', '°', strips(angles), 2)}
${measuresTable(figures)}
<h2>Frame</h2>
<p>RMS over the surface: median ${quantile(frameRms, 0.5).toFixed(2)}, 95th percentile ${quantile(frameRms, 0.95).toFixed(2)}, worst ${Math.max(...frameRms).toFixed(2)} mm.</p>
<h2>Marks found</h2>
<p>Whiskers: 95 % score interval of the share (Wilson 1927).</p>
${figures.recall.map(({ by, rows }) => barPlot(`Found, by ${by}`, rows.map((row) => ({ name: row.name, value: row.of === 0 ? 0 : row.found / row.of, low: row.low, high: row.high, text: percent(row) })), 1, by.startsWith('all') ? 0.95 : by === 'region' ? 0.9 : null)).join('\n')}
<p>False marks a cast: ${mean(falseMarks).toFixed(2)} (${most(falseMarks)}); on casts without marks ${mean(falseOnBare).toFixed(2)} (${falseOnBare.length} casts). New marks on a second pass: ${mean(again).toFixed(2)} a cast. Depth of found marks, mean absolute error: ${mean(depthErrors).toFixed(2)} mm.</p>
<h2>Surface</h2>
<p>Compared with smoothing the whole surface at its best setting on the tuning casts: ${whole}.</p>
${barPlot('Error where dents and bumps of 0.8 mm or more were, RMS, mm', [
    { name: 'as scanned', value: left.scanned, text: left.scanned.toFixed(2) }, { name: 'whole surface smoothed', value: left.whole, text: left.whole.toFixed(2) }, { name: 'this program', value: left.program, text: left.program.toFixed(2) },
  ], 1.6, 0.25)}
${barPlot('Elsewhere, 99.5th percentile of the error, mm', [
    { name: 'whole surface smoothed', value: elsewhere.whole.p995, text: elsewhere.whole.p995.toFixed(2) }, { name: 'this program', value: elsewhere.program.p995, text: elsewhere.program.p995.toFixed(2) },
  ], 1.6, 0.2)}
${figures.refused.length === 0 ? '' : `<h2>Refused</h2><ul>${figures.refused.map(({ seed, why }) => `<li>${seed}: ${why}</li>`).join('')}</ul>`}
</html>
`;
}

function measuresTable({ measures }: BookFigures): string {
  const rows = measures.map(({ id, differences }) => {
    const a = agreement(differences);
    const limit = limitOf(id);
    const within = limit === null ? '–' : `${((100 * differences.filter((d) => Math.abs(d) <= limit).length) / differences.length).toFixed(1)} %`;
    return `<tr><td>${id}<td>${a.count}<td>${a.bias.toFixed(3)} ± ${a.biasHalf.toFixed(3)}<td>${a.sd.toFixed(3)}<td>${a.low.toFixed(2)} to ${a.high.toFixed(2)}<td>${limit ?? '–'}<td>${within}</tr>`;
  });
  return `<table><tr><th>measure<th>casts<th>bias, 95 % interval<th>SD<th>limits of agreement<th>limit<th>within it</tr>${rows.join('')}</table>`;
}

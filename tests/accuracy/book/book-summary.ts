import { limitOf } from './book-page.js';
import { quantile } from '../../support/statistics.js';
import { agreement } from './statistics.js';
import type { BookFigures, Share } from './summary.js';

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
const told = ({ found, of, low, high }: Share): string => (of === 0 ? '–' : `${((100 * found) / of).toFixed(1)} % (${found}/${of}; ${(100 * low).toFixed(0)} to ${(100 * high).toFixed(0)} %)`);

/** The figures of the book in Markdown, to be kept. */
export function bookSummary(figures: BookFigures, made: string, whole: string): string {
  const { left, elsewhere, frameRms } = figures;
  return [
    '# Accuracy book, in short',
    '',
    made,
    '',
    `Whole-surface smoothing, for comparison, at its best setting on the tuning casts: ${whole}.`,
    '',
    '| figure | aim | this program | whole surface smoothed |',
    '|---|---|---|---|',
    `| error left where dents and bumps ≥ 0.8 mm were (as scanned ${left.scanned.toFixed(2)}), RMS, mm | 0.25 | ${left.program.toFixed(3)} | ${left.whole.toFixed(3)} |`,
    `| error elsewhere, RMS; 99.5th percentile, mm | 0.06; 0.20 | ${elsewhere.program.rms.toFixed(3)}; ${elsewhere.program.p995.toFixed(3)} | ${elsewhere.whole.rms.toFixed(3)}; ${elsewhere.whole.p995.toFixed(3)} |`,
    `| frame, RMS over the surface: median; 95th percentile; worst, mm | 0.5 | ${[quantile(frameRms, 0.5), quantile(frameRms, 0.95), Math.max(...frameRms)].map((v) => v.toFixed(2)).join('; ')} | – |`,
    `| false marks a cast; on casts without marks | 1; 0.3 | ${mean(figures.falseMarks).toFixed(2)}; ${mean(figures.falseOnBare).toFixed(2)} | – |`,
    `| depth of found marks, mean absolute error, mm | 0.2 | ${mean(figures.depthErrors).toFixed(3)} | – |`,
    `| new marks on a second pass, a cast | 0.1 | ${mean(figures.again).toFixed(2)} | – |`,
    '',
    ...figures.recall.flatMap(({ by, rows }) => [`| found, by ${by} | share (95 % interval) |`, '|---|---|', ...rows.map((row) => `| ${row.name} | ${told(row)} |`), '']),
    '| measure | casts | bias ± half of its 95 % interval | SD | limits of agreement | limit | within it | bias inside ±2 mm |',
    '|---|---|---|---|---|---|---|---|',
    ...figures.measures.map(({ id, differences }) => {
      const a = agreement(differences);
      const limit = limitOf(id);
      const within = limit === null ? '–' : `${((100 * differences.filter((d) => Math.abs(d) <= limit).length) / differences.length).toFixed(1)} %`;
      return `| ${id} | ${a.count} | ${a.bias.toFixed(3)} ± ${a.biasHalf.toFixed(3)} | ${a.sd.toFixed(3)} | ${a.low.toFixed(2)} to ${a.high.toFixed(2)} | ${limit ?? '–'} | ${within} | ${Math.abs(a.bias) + a.biasHalf <= 2 ? 'yes' : 'no'} |`;
    }),
    '',
    ...(figures.refused.length === 0 ? [] : [`Refused: ${figures.refused.map(({ seed, why }) => `${seed} (${why})`).join('; ')}.`, '']),
  ].join('\n');
}

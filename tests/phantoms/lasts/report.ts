/**
 * Makes lasts of generated casts under rules of every kind and prints what came of them, in Markdown.
 *
 *   npm run lasts -- [--first 70000] [--count 200] [--triangles 30000] [--crossings 20] [--write]
 *
 * Of the first --crossings lasts an independent library looks for crossings; --write makes tests/phantoms/lasts/FIGURES.md.
 * Seeds 1 to 999 are for tuning, 70000 and up for reporting.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { performance } from 'node:perf_hooks';
import { parseArgs } from 'node:util';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { LastChange } from '@cast-to-last/pipeline/last/last-body';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { isWorked } from '@cast-to-last/pipeline/last/top/choose-cut';
import { buildLast } from '@cast-to-last/pipeline/stages/build-last';
import { makePhantom, type Phantom } from '../make-phantom.js';
import { randomFrom } from '../random.js';
import { quantile } from '../../support/statistics.js';
import { wholeOptions } from '../../support/whole-options.js';
import { crossingPairsByBvh } from './crossing-pairs-by-bvh.js';
import { drawLastRules } from './draw-rules.js';
import { behindBallLine } from './moved-behind-ball.js';

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '70000' }, count: { type: 'string', default: '200' }, triangles: { type: 'string', default: '30000' },
    crossings: { type: 'string', default: '20' }, write: { type: 'boolean', default: false },
  },
});
const [first, count, triangles, checked] = wholeOptions(values, 'first', 'count', 'triangles', 'crossings');

const changes = new Map<string, { readonly label: string; readonly unit: string; readonly off: number[] }>();
const refusals = new Map<string, number>();
let [built, manifold, ownCrossings, checkedLasts, crossingLasts, refusedCasts, notMade] = [0, 0, 0, 0, 0, 0, 0];
const behind: number[] = [];
const seconds: number[] = [];

/** Null where the foot of this seed cannot be drawn as one whole surface. */
function made(seed: number): Phantom | null {
  try {
    return makePhantom(seed, { triangles, denseTriangles: triangles, unit: 'mm' });
  } catch (error) {
    process.stderr.write(`${seed}: not made, ${(error as Error).message}\n`);
    notMade++;
    return null;
  }
}

/** Ids of changes that are told and not asked for. */
const told = new Set<string>();

function note({ id, label, unit, before, asked, got }: LastChange): void {
  // A girth is asked for on most lasts, and told where it could not be kept.
  const key = asked === null ? `${id}, told` : id;
  if (asked === null) told.add(key);
  const entry = changes.get(key) ?? { label, unit, off: [] };
  entry.off.push(asked === null ? Math.abs(got - before) : Math.abs(got - asked));
  changes.set(key, entry);
}

for (let seed = first; seed < first + count; seed++) {
  const phantom = made(seed);
  if (phantom === null) continue;
  const { scan, truth } = phantom;
  const random = randomFrom(seed).fork('rules of the last');
  const rules = drawLastRules(random);
  const input = { bytes: writeStl(scan), fileName: 'cast.stl', side: truth.side, kind: 'positive', unit: 'mm' } as const;
  let cast;
  try {
    cast = await checkScan(input, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run());
  } catch (error) {
    if (!(error instanceof CastError)) throw error;
    refusedCasts++;
    process.stderr.write(`${seed}: the cast is refused, ${error.code}\n`);
    continue;
  }
  // A cut is set below where this cast ends, so that the height itself is no reason for a refusal.
  const ends = cast.aligned.opening === null ? 75 : Math.min(...Array.from(cast.aligned.opening, (v) => cast.measured.mesh.positions[3 * v + 2]));
  const cut = random.between(0, 1) < 0.6 || isWorked(rules.top) ? Math.max(45, Math.min(120, ends - random.between(6, 25))) : null;
  const start = performance.now();
  let last;
  try {
    last = await buildLast(cast.measured, cast.aligned, { ...rules, topHeightMm: cut }, { footbed: null, orderNumber: String(seed) });
  } catch (error) {
    if (!(error instanceof CastError)) throw error;
    refusals.set(error.code, (refusals.get(error.code) ?? 0) + 1);
    process.stderr.write(`${seed}: refused, ${error.message}\n`);
    continue;
  }
  seconds.push((performance.now() - start) / 1000);
  built++;
  for (const change of last.allowances.changes) note(change);
  if (await withSolids((scope) => { const solid = scope.ofMesh(last.mesh); return solid.volume > 0 && solid.decompose().length === 1; })) manifold++;
  const own = selfCrossings(last.mesh).reduce((sum, one) => sum + one, 0);
  if (own > 0) ownCrossings++;
  let pairs = null;
  if (checkedLasts < checked) {
    checkedLasts++;
    pairs = crossingPairsByBvh(last.mesh);
    if (pairs > 0) crossingLasts++;
  }
  const moved = await behindBallLine(cast, rules);
  if (moved !== null) behind.push(moved);
  const off = last.allowances.changes.flatMap((c) => (c.unit === 'mm' && c.asked !== null && Math.abs(c.got - c.asked) > 0.3 ? [`${c.id} ${(c.got - c.asked).toFixed(2)}`] : []));
  process.stderr.write(`${seed}: ${seconds.at(-1)?.toFixed(1)} s, ${own} crossing triangles${pairs === null ? '' : `, ${pairs} pairs by the other check`}${off.length > 0 ? `, off: ${off.join(', ')}` : ''}${last.warnings.length > 0 ? `; ${last.warnings.join(' ')}` : ''}\n`);
}

const shown = (all: readonly number[], share: number): string => (all.length === 0 ? '–' : quantile(all, share).toFixed(3));
const table = [
  '# How good the lasts are',
  '',
  `Made ${new Date().toISOString().slice(0, 10)} with Node ${process.version} on ${cpus().length} × ${cpus()[0].model.trim()}, by \`npm run lasts -- --first ${first} --count ${count} --triangles ${triangles}\`.`,
  '',
  `Generated casts of seeds ${first} to ${first + count - 1}, about ${triangles} triangles each, with marks, noise, holes and oddities, through the pipeline; each with rules drawn anew (draw-rules.ts). Building took ${shown(seconds, 0.5)} s (median), ${shown(seconds, 1)} s at most.`,
  '',
  '| figure | bar | measured |',
  '|---|---|---|',
  `| casts; not made, because the foot cannot be drawn; refused before the last; lasts refused by the rules | – | ${count}; ${notMade}; ${refusedCasts}; ${[...refusals].map(([code, n]) => `${code} ${n}`).join(', ') || 'none'} |`,
  `| closed, manifold, of one piece, by the solid modeller | all | ${manifold} of ${built} |`,
  `| lasts with crossing triangles, by our own check | 0 | ${ownCrossings} of ${built} |`,
  `| lasts with crossing triangles, by three-mesh-bvh | 0 | ${crossingLasts} of ${checkedLasts} |`,
  `| toe allowance and toe box: most that anything behind the ball line moved, mm | ≤ 0.02 | ${behind.length === 0 ? '–' : Math.max(...behind).toFixed(4)} (${behind.length} lasts) |`,
  '',
  '| change | lasts | off what is asked: median | 95th percentile | most | within 0.3 |',
  '|---|---|---|---|---|---|',
  ...[...changes].filter(([id]) => !told.has(id)).map(([id, { label, unit, off }]) => `| ${id} (${label}, ${unit}) | ${off.length} | ${shown(off, 0.5)} | ${shown(off, 0.95)} | ${shown(off, 1)} | ${off.filter((d) => d <= 0.3).length} |`),
  '',
  '| told, not asked for | lasts | median | 95th percentile | most |',
  '|---|---|---|---|---|',
  ...[...changes].filter(([id]) => told.has(id)).map(([id, { label, unit, off }]) => `| ${id} (${label}, ${unit}) | ${off.length} | ${shown(off, 0.5)} | ${shown(off, 0.95)} | ${shown(off, 1)} |`),
  '',
].join('\n');
process.stdout.write(table);
if (values.write) writeFileSync(new URL('FIGURES.md', import.meta.url), table);

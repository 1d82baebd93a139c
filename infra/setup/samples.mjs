/** npm run samples: sets up, then turns every sample cast into a last with report and sheet under out/samples/. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT, setUp } from './set-up.mjs';

const SAMPLES = 'sample-meshes';
const RULES = join(SAMPLES, 'workshop.rules.json');

setUp();

const casts = sampleCasts();
if (casts.length === 0) {
  console.error(`There are no sample casts in ${SAMPLES}/.`);
  process.exit(1);
}
const rows = casts.map(makeLast);
const made = rows.filter((row) => row !== null);
printTable(['order', 'side', 'foot length', 'ball girth', 'instep girth', 'EU size', 'marks', 'to decide', 'cast check', 'results'], made);
console.log(`\n${made.length} of ${casts.length} sample casts are lasts now. Each folder holds last.stl, last.3mf, cleaned.stl, sheet.pdf, report.json, measures.csv and review.glb, and recast-note.pdf where the cast has to be taken again.`);
console.log('Is a cast usable? npm run --silent cast -- check SCAN --side left|right');
console.log('Your own scan: npm run --silent cast -- process SCAN --side left|right --out DIR');
process.exit(made.length === casts.length ? 0 : 1);

/** Every scan named ORDER-SIDE, with the order file ORDER.order.json. */
function sampleCasts() {
  const folder = join(ROOT, SAMPLES);
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .sort()
    .map((scan) => /^(.+)-(left|right)\.(stl|ply|obj)$/.exec(scan))
    .filter((name) => name !== null)
    .map(([scan, order, side]) => ({ scan: join(SAMPLES, scan), order, side, orderFile: join(SAMPLES, `${order}.order.json`) }));
}

/** A row of the table, or null where the cast could not be made a last. */
function makeLast({ scan, order, side, orderFile }) {
  const folder = join('out', 'samples', order, side);
  const start = performance.now();
  const done = spawnSync(
    process.execPath,
    [join('packages', 'cli', 'dist', 'main.js'), 'process', scan, '--side', side, '--order', orderFile, '--rules', RULES, '--out', folder, '--json', '--quiet'],
    { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'], maxBuffer: 64 * 1024 * 1024 },
  );
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  if (done.status !== 0) {
    console.error(`${scan}: no last was made (exit code ${done.status}).`);
    return null;
  }
  console.log(`${scan}: done in ${seconds} s`);
  const report = JSON.parse(done.stdout);
  const measure = (id) => {
    const found = report.measurements.find((m) => m.id === id && m.on === 'cast');
    return found !== undefined && 'value' in found ? `${found.value.toFixed(1)} mm` : 'absent';
  };
  const count = (decision) => String(report.marks.filter((m) => m.decision === decision).length);
  return [
    order, report.scan.side, measure('foot-length'), measure('ball-girth'), measure('instep-girth'), String(report.sizes.parisPoint),
    `${count('smooth')} smoothed`, count('ask'), report.castCheck.verdict, folder,
  ];
}

function printTable(head, lines) {
  const all = [head, ...lines];
  const widths = head.map((_, i) => Math.max(...all.map((line) => line[i].length)));
  console.log('');
  for (const line of all) console.log(line.map((cell, i) => cell.padEnd(widths[i])).join('  ').trimEnd());
}

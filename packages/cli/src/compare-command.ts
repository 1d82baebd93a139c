import { Option } from 'commander';
import type { Command } from 'commander';
import { jsonBytes, jsonText } from '@cast-to-last/pipeline/files/json-file';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { unitOption } from './arguments.js';
import { compareSummary } from './compare-summary.js';
import { readCompared } from './compared-surface.js';
import type { ComparedOptions } from './compared-surface.js';
import { readRules } from './read-rules.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface CompareOptions extends ComparedOptions {
  readonly out?: string;
  readonly rules?: string;
  readonly json: boolean;
}

const FILE_NAMES = ['compare.json', 'compare.pdf', 'deviation.glb'] as const;

/** `compare`: two casts or lasts of one customer beside each other, the other foot or the same one at another time. */
export function addCompareCommand(program: Command): void {
  program
    .command('compare')
    .description('compare two casts or lasts of one customer: left and right, or an earlier one of the same foot')
    .argument('<first>', 'folder that process wrote, or a mesh file (STL, PLY, OBJ)')
    .argument('<second>', 'the same')
    .addOption(new Option('--of <surface>', 'what of a folder is compared').choices(['cast', 'last']).default('cast'))
    .addOption(new Option('--side <side>', 'the foot, where a mesh file is compared').choices(['left', 'right']))
    .addOption(unitOption('unit of mesh files; auto infers it from the size'))
    .option('--out <dir>', 'folder for compare.json, compare.pdf and deviation.glb')
    .option('--rules <file>', 'rule set (JSON) with the limits, and paper and language of the PDF')
    .option('--json', 'print compare.json', false)
    .action(compare);
}

async function compare(first: string, second: string, options: CompareOptions): Promise<void> {
  if (options.out !== undefined) await checkFolder(options.out);
  const rules = await readRules(options.rules);
  const [a, b] = [await readCompared(first, options), await readCompared(second, options)];
  // The tree of boxes takes a while to load; other commands do without it.
  const { compareCasts } = await import('@cast-to-last/pipeline/pair/compare-casts');
  const { comparisonReport } = await import('@cast-to-last/pipeline/pair/comparison-report');
  const what = options.of === 'last' ? 'last' : 'cast';
  const names = [a, b].map(({ side }, i) => `the ${a.side === b.side ? ['first', 'second'][i] : side} ${what}`);
  const casts = [a.cast(names[0]), b.cast(names[1])] as const;
  const comparison = compareCasts(casts[0], casts[1], rules.check);
  const report = comparisonReport(comparison, [a.scan, b.scan], { name: rules.name, version: rules.version, sha256: jsonSha256(rules) }, PROGRAM_VERSION);
  if (options.out !== undefined) {
    const { drawComparisonSheet } = await import('@cast-to-last/pipeline/stages/draw-comparison');
    const { deviationGlb } = await import('@cast-to-last/pipeline/pair/deviation-glb');
    await writeFolder(options.out, [
      { name: FILE_NAMES[0], bytes: jsonBytes(report) },
      { name: FILE_NAMES[1], bytes: await drawComparisonSheet(report, comparison, casts[1].mesh, rules.sheet) },
      { name: FILE_NAMES[2], bytes: deviationGlb(comparison, casts[1].mesh) },
    ], FILE_NAMES);
  }
  process.stdout.write(options.json ? jsonText(report) : compareSummary(report, options.out === undefined ? null : { folder: options.out, names: FILE_NAMES }));
}

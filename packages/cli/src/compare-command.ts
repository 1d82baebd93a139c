import type { Command } from 'commander';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules';
import { canonicalJson, sha256 } from '@cast-to-last/pipeline/stage-key';
import { compareSummary } from './compare-summary.js';
import { readJsonFile } from './read-input.js';
import { readResultFolder } from './result-folder.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface CompareOptions {
  readonly out?: string;
  readonly rules?: string;
  readonly json: boolean;
}

const FILE_NAMES = ['compare.json', 'deviation.glb'] as const;

/** `compare`: two casts of one customer beside each other, the other foot or the same one at another time. */
export function addCompareCommand(program: Command): void {
  program
    .command('compare')
    .description('compare two casts of one customer: left and right, or an earlier one of the same foot')
    .argument('<first>', 'folder that process wrote')
    .argument('<second>', 'folder that process wrote')
    .option('--out <dir>', 'folder for compare.json and deviation.glb')
    .option('--rules <file>', 'rule set (JSON) with the limits')
    .option('--json', 'print compare.json', false)
    .action(compare);
}

async function compare(first: string, second: string, options: CompareOptions): Promise<void> {
  if (options.out !== undefined) await checkFolder(options.out);
  const rules = options.rules === undefined ? DEFAULT_RULES : parseRules(await readJsonFile(options.rules, 'The rules file', 'bad-rules'));
  const [a, b] = [await readResultFolder(first), await readResultFolder(second)];
  // The tree of boxes takes a while to load; other commands do without it.
  const { compareCasts } = await import('@cast-to-last/pipeline/compare-casts');
  const { comparedCast } = await import('@cast-to-last/pipeline/pair/parse-result');
  const { comparisonReport } = await import('@cast-to-last/pipeline/pair/comparison-report');
  const sides = a.result.scan.side !== b.result.scan.side;
  const names = [a, b].map(({ result }, i) => (sides ? `the ${result.scan.side} cast` : `the ${i === 0 ? 'first' : 'second'} cast`));
  const casts = [comparedCast(names[0], a.result, a.cleaned), comparedCast(names[1], b.result, b.cleaned)] as const;
  const comparison = compareCasts(casts[0], casts[1], rules.check);
  const report = comparisonReport(comparison, [a.result, b.result], { name: rules.name, version: rules.version, sha256: sha256(canonicalJson(rules)) }, PROGRAM_VERSION);
  if (options.out !== undefined) {
    const { deviationGlb } = await import('@cast-to-last/pipeline/pair/deviation-glb');
    await writeFolder(options.out, [
      { name: FILE_NAMES[0], bytes: new TextEncoder().encode(`${JSON.stringify(report, null, 2)}\n`) },
      { name: FILE_NAMES[1], bytes: deviationGlb(comparison, casts[1].mesh) },
    ], FILE_NAMES);
  }
  process.stdout.write(options.json ? `${JSON.stringify(report, null, 2)}\n` : compareSummary(report, options.out === undefined ? null : { folder: options.out, names: FILE_NAMES }));
}

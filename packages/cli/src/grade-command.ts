import { readdir } from 'node:fs/promises';
import { Option } from 'commander';
import type { Command } from 'commander';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import { jsonBytes, jsonText } from '@cast-to-last/pipeline/files/json-file';
import type { GradeReport } from '@cast-to-last/pipeline/remake/grade-report';
import { asksOf, parseMillimetres, parseSteps, SYSTEMS } from './grade-call.js';
import type { GradeCallOptions } from './grade-call.js';
import { readStoredCastCall } from './stored-cast.js';
import type { StoredCastOptions } from './stored-cast.js';
import { PROGRAM_VERSION } from './version.js';
import { checkFolder, writeFolder } from './write-folder.js';

interface GradeOptions extends GradeCallOptions, StoredCastOptions {
  readonly out: string;
  readonly json: boolean;
  readonly quiet: boolean;
}

/** What an earlier run left, which another one replaces. */
const GRADE_FILES = /^(grade\.(json|csv)|last-[a-z0-9.+-]+\.(stl|3mf))$/;

/** `grade`: the last of a folder that `process` wrote, in other sizes and widths. */
export function addGradeCommand(program: Command): void {
  program
    .command('grade')
    .description('make the last of a folder that process wrote in other sizes and widths, or to a tape')
    .argument('<folder>', 'folder that process wrote')
    .addOption(new Option('--system <system>', 'sizes by which it grows').choices(SYSTEMS))
    .option('--sizes <steps>', 'sizes longer or shorter: -1,0,1.5 or -2..3', parseSteps)
    .option('--widths <steps>', 'widths fuller or slimmer, alike', parseSteps)
    .option('--girth-step <mm>', "growth of the girths from size to size; the system's own where absent", parseMillimetres)
    .option('--width-step <mm>', 'growth of the girths from width to width; 6.35 where absent', parseMillimetres)
    .option('--length <mm>', 'in place of steps: length of the last', parseMillimetres)
    .option('--ball <mm>', 'and its ball girth', parseMillimetres)
    .option('--waist <mm>', 'its waist girth', parseMillimetres)
    .option('--instep <mm>', 'its instep girth', parseMillimetres)
    .option('--rules <file>', "other rules (JSON) than the folder's own")
    .option('--order-number <text>', "number on label and files; the folder's own where it knows one")
    .requiredOption('--out <dir>', 'folder for the results')
    .option('--json', 'print grade.json', false)
    .option('--quiet', 'print nothing but errors', false)
    .action(grade);
}

async function grade(folder: string, options: GradeOptions): Promise<void> {
  const asks = asksOf(options);
  await checkFolder(options.out);
  const { cast, rules, rulesSha256, orderNumber } = await readStoredCastCall(folder, options);
  const { gradeLasts } = await import('@cast-to-last/pipeline/remake/grade-last');
  const { gradeCsv, gradeReport } = await import('@cast-to-last/pipeline/remake/grade-report');
  const { writeThreeMf } = await import('@cast-to-last/geometry/formats/threemf');
  const graded = await gradeLasts(cast, asks, rules.last, orderNumber);
  const report = gradeReport(graded, {
    orderNumber, side: cast.aligned.side, rules: { name: rules.name, version: rules.version, sha256: rulesSha256 }, program: { version: PROGRAM_VERSION },
  });
  const files: CastFile[] = [
    { name: 'grade.json', bytes: jsonBytes(report) },
    { name: 'grade.csv', bytes: new TextEncoder().encode(gradeCsv(report)) },
  ];
  for (const { name, last } of graded) {
    files.push({ name: `last-${name}.stl`, bytes: writeStl(last.mesh, { title: `last ${name}` }) });
    files.push({ name: `last-${name}.3mf`, bytes: await writeThreeMf(last.mesh, { title: `last ${name}` }) });
  }
  await writeFolder(options.out, files, (await readdir(options.out).catch(() => [])).filter((name) => GRADE_FILES.test(name)));
  if (options.json) process.stdout.write(jsonText(report));
  else if (!options.quiet) process.stdout.write(summary(report, options.out));
}

function summary({ orderNumber, side, lasts }: GradeReport, folder: string): string {
  const lines = [`order ${orderNumber}, ${side}: ${lasts.length} ${lasts.length === 1 ? 'last' : 'lasts'}`];
  for (const { name, changes, warnings } of lasts) {
    lines.push(`  ${name}: ${changes.map(({ label, asked, got }) => `${label} ${got.toFixed(1)} (asked ${asked.toFixed(1)})`).join(', ')} mm`);
    for (const warning of warnings) lines.push(`    ${warning}`);
  }
  return `${lines.join('\n')}\nwritten to ${folder}\n`;
}

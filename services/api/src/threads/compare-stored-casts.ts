import { jsonBytes } from '@cast-to-last/pipeline/files/json-file';
import { compareCasts } from '@cast-to-last/pipeline/pair/compare-casts';
import { comparedScan, comparisonReport } from '@cast-to-last/pipeline/pair/comparison-report';
import { deviationGlb } from '@cast-to-last/pipeline/pair/deviation-glb';
import { comparedCast, parseResult } from '@cast-to-last/pipeline/pair/parse-result';
import type { ComparedResult, ComparedSurface } from '@cast-to-last/pipeline/pair/parse-result';
import { jsonSha256 } from '@cast-to-last/pipeline/digest';
import { drawComparisonSheet } from '@cast-to-last/pipeline/stages/draw-comparison';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import type { StoredFile } from '@cast-to-last/runtime/records/json-types';
import type { CastsToCompare, ComparedCasts } from './thread-task.js';

const SURFACES: Readonly<Record<ComparedSurface, string>> = { cast: 'cleaned.stl', last: 'last.stl' };

/** Lays two results on each other, as `compare` of the command line does; the files go into the store. Throws CastError. */
export async function compareStoredCasts(artifacts: Artifacts, { first, second, of, rules, programVersion }: CastsToCompare): Promise<ComparedCasts> {
  const [a, b] = await Promise.all([first, second].map((files) => resultOf(artifacts, files, of)));
  const sides = [a, b].map(({ result }) => result.scan.side);
  const names = sides.map((side, i) => `the ${sides[0] === sides[1] ? ['first', 'second'][i] : side} ${of}`);
  const casts = [comparedCast(names[0], a.result, a.surface, of), comparedCast(names[1], b.result, b.surface, of)] as const;
  const comparison = compareCasts(casts[0], casts[1], rules.check);
  const report = comparisonReport(
    comparison, [comparedScan(a.result, of), comparedScan(b.result, of)], { name: rules.name, version: rules.version, sha256: jsonSha256(rules) }, programVersion,
  );
  const store = async (name: string, bytes: Uint8Array): Promise<StoredFile> => ({ name, ...(await artifacts.add(bytes)) });
  const files = [
    await store('compare.json', jsonBytes(report)),
    await store('compare.pdf', await drawComparisonSheet(report, comparison, casts[1].mesh, rules.sheet)),
    await store('deviation.glb', deviationGlb(comparison, casts[1].mesh)),
  ];
  return { report, files };
}

async function resultOf(artifacts: Artifacts, files: readonly StoredFile[], of: ComparedSurface): Promise<{ readonly result: ComparedResult; readonly surface: Uint8Array }> {
  const bytes = (name: string): Promise<Uint8Array> => artifacts.bytes(files.find((file) => file.name === name)?.sha256 ?? '');
  const [report, surface] = await Promise.all([bytes('report.json'), bytes(SURFACES[of])]);
  return { result: parseResult(JSON.parse(Buffer.from(report).toString()), 'The report of the result'), surface };
}

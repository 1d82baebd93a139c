import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { writeThreeMfModel } from '@cast-to-last/geometry/formats/threemf';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import type { CastFile } from '../files/cast-files.js';
import { CastError } from '../errors.js';
import { jsonBytes } from '../files/json-file.js';
import type { MakingRules } from '../rules/making-rules.js';
import { blankFor } from './blank.js';
import { checkWritten } from './check-written.js';
import type { PrintJob, PrintedPiece } from './make-print.js';
import { makePrint } from './make-print.js';
import type { MakingHeader, MakingReport, MillingReport } from './making-report.js';
import { makingHead, millingOf, plateFile, printOf } from './making-report.js';
import { planSvg } from './plan-svg.js';

/** Files of this step that any run of it may leave; those of a run are its own pieces and plates. */
export const MAKING_FILES = /^(print-.*\.(3mf|stl)|milling\.json|making\.json|plan\.svg)$/;

export interface Making {
  readonly report: MakingReport;
  readonly files: readonly CastFile[];
}

/**
 * Everything that the printer and the mill need for a last: a 3MF a plate and an STL a piece, the plan, and what was measured
 * of each.
 *
 * @param last closed, manifold, outward, foot frame, mm
 * @throws CastError those of `makePrint`; `piece-not-closed` where last.stl does not come back closed
 */
export async function makingFiles(last: Mesh, rules: MakingRules, header: MakingHeader): Promise<Making> {
  const { print, milling } = rules;
  const back = checkWritten(writeStl(last));
  if (!back.closed || back.volume <= 0) throw new CastError('piece-not-closed', 'The last does not come back closed from its file.', 'Move last.topHeightMm by a tenth of a millimetre and make it again.');
  const job = await makePrint(last, print);
  const hull = await withSolids((scope) => scope.ofMesh(last).hull().toMesh().positions);
  const blank = blankFor(hull, milling);
  const head = makingHead(header);
  const report: MakingReport = {
    ...head, last: { triangles: back.triangles, volume: Math.round(back.volume * 1e4) / 1e4, closed: back.closed },
    print: printOf(job, print), milling: millingOf(blank, milling), warnings: job.warnings,
  };
  const millingReport: MillingReport = { ...head, milling: report.milling };
  const title = `Last ${header.orderNumber}, ${header.side}`;
  const plates = await Promise.all(Array.from({ length: job.plates }, (_, n) => plateModel(job, n, title, rules, header)));
  return {
    report,
    files: [
      ...plates,
      ...job.pieces.map(({ file, stl }): CastFile => ({ name: file, bytes: stl })),
      { name: 'plan.svg', bytes: utf8.encode(planSvg(title, job, print, last, blank)) },
      { name: 'milling.json', bytes: jsonBytes(millingReport) },
      { name: 'making.json', bytes: jsonBytes(report) },
    ],
  };
}

const utf8 = new TextEncoder();
const mm = (value: number): string => value.toFixed(2);

async function plateModel(job: PrintJob, plate: number, title: string, { print }: MakingRules, header: MakingHeader): Promise<CastFile> {
  const objects = job.pieces.filter((piece) => piece.plate === plate).map((piece) => ({ name: piece.plan.name, mesh: piece.mesh, metadata: metadataOf(piece, print.overhangDeg) }));
  const bytes = await writeThreeMfModel(objects, {
    title: `${title}, plate ${plate + 1} of ${job.plates}`,
    description: `${objects.map((o) => o.name).join(', ')} of a last, as they are printed`,
    metadata: { order: header.orderNumber, side: header.side, rules: `${header.rules.name}, version ${header.rules.version}`, bedMm: print.bedMm.join(' '), program: header.programVersion },
  });
  return { name: plateFile(plate), bytes };
}

const metadataOf = ({ plan, lay, volume, wall, drains, transform }: PrintedPiece, overhangDeg: number): Record<string, string> => ({
  piece: plan.name,
  sizeMm: lay.size.map(mm).join(' '),
  volumeMm3: mm(volume),
  body: wall === null ? 'solid' : 'hollow',
  ...(wall === null ? {} : { wallAskedMm: mm(wall.asked), wallLeastMm: mm(wall.least), drains: String(drains) }),
  overhangDeg: String(overhangDeg),
  overhangMm2: mm(lay.area),
  footToPlate: Array.from(transform, (c) => c.toFixed(6)).join(' '),
});

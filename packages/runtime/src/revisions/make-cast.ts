import { castFiles } from '@cast-to-last/pipeline/files/cast-files';
import type { CastFile } from '@cast-to-last/pipeline/files/cast-files';
import { cleanedSurfaces } from '@cast-to-last/pipeline/files/cleaned-surfaces';
import { castingOf, refuseSideNotOrdered } from '@cast-to-last/pipeline/order';
import { STAGE_NAMES } from '@cast-to-last/pipeline/outcome';
import type { StageName } from '@cast-to-last/pipeline/outcome';
import { drawNoteKey, drawSheetKey, makeLast } from '@cast-to-last/pipeline/pipeline';
import { buildReport } from '@cast-to-last/pipeline/report/report';
import type { Report } from '@cast-to-last/pipeline/report/report';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { signedChange } from '@cast-to-last/pipeline/files/review-glb';
import { surfaceFiles } from '@cast-to-last/pipeline/files/surface-files';
import { fullFiles, lightFile } from '@cast-to-last/pipeline/files/view-files';
import type { ViewFile } from '@cast-to-last/pipeline/files/view-files';
import type { Artifacts } from '../artifacts/artifacts.js';
import type { JobProgress, RevisionSummary, StoredFile } from '../records/json-types.js';
import type { CastMade, CastTask } from './cast-task.js';
import { PROGRAM_VERSION } from '../program-version.js';
import { runStages } from './run-stages.js';
import type { StageCache } from './stage-cache.js';

export interface MakeCastHost {
  readonly artifacts: Artifacts;
  readonly cache: StageCache;
  progress(progress: JobProgress): void;
  /** What can be looked at before the last is built: told where a cast is made again, first the light file alone. */
  preview(files: readonly StoredFile[]): void;
}

type Shown = Pick<CastOutcome, 'aligned' | 'smoothed' | 'measured'>;

/** The records that a preview shows, by the stage that makes them. */
const SHOWN: Partial<Record<StageName, keyof Shown>> = { align: 'aligned', 'smooth-marks': 'smoothed', measure: 'measured' };

/** The note comes on top, where there is one. */
const STAGES = STAGE_NAMES.length - 1;

/** Makes the last of one cast, with every file that the command line makes, into the store. Throws CastError. */
export async function makeCast(task: CastTask, { artifacts, cache, progress, preview }: MakeCastHost): Promise<CastMade> {
  const { scanSha256, order, rules, decisions, date, fileName, warnings, ...particulars } = task;
  refuseSideNotOrdered(order, task.side);
  const bytes = await artifacts.bytes(scanSha256);
  const store = async ({ name, bytes: content, sha256 }: CastFile): Promise<StoredFile> => ({
    name, ...(await (sha256 === undefined ? artifacts.add(content) : artifacts.addDigested(content, sha256))),
  });

  const seen: { -readonly [Name in keyof Shown]?: unknown } = {};
  let again = false;
  const { step, stages } = runStages({
    cache, rules, decisions,
    begins: (stage) => progress({ stage, done: stages.length, of: Math.max(STAGES, stages.length + 1) }),
    ended: async (name, result, cached) => {
      const record = SHOWN[name];
      if (record === undefined) return;
      seen[record] = result;
      if (record === 'aligned') again = cached;
      if (record === 'measured' && again) await showPreview(seen as Shown);
    },
  });
  /** The cleaned cast with what changed on it. */
  const showPreview = async (shown: Shown): Promise<void> => {
    const bodies = { cleaned: shown.measured.mesh, change: signedChange(shown) };
    const files: StoredFile[] = [];
    const add = async (file: ViewFile): Promise<void> => void files.push(await store(file));
    await add(await lightFile(bodies));
    preview([...files]);
    for (const file of await fullFiles(bodies)) await add(file);
    preview([...files]);
  };
  const outcome = await makeLast({ ...particulars, bytes, fileName, casting: castingOf(order) }, rules, decisions, step);

  const run = { fileName, programVersion: PROGRAM_VERSION, warnings };
  const { orderNumber, customerNumber, remarks } = order;
  const header = { orderNumber, customerNumber, remarks, date };
  const keys = stages.map(({ key }) => key);
  const sheet = await step('draw-sheet', drawSheetKey(keys, rules, header, run), async () => {
    const { drawOutcomeSheet } = await import('@cast-to-last/pipeline/stages/draw-sheet');
    return drawOutcomeSheet(outcome, header, run);
  });
  const note = outcome.check.verdict !== 'recast' ? null : await step('draw-note', drawNoteKey(keys, rules, { orderNumber, date }), async () => {
    const { drawRecastNote } = await import('@cast-to-last/pipeline/stages/draw-note');
    return drawRecastNote(outcome, { orderNumber, date });
  });
  const report = buildReport(outcome, { ...run, stages });
  const surfaces = await surfaceFiles(cleanedSurfaces(outcome), outcome.last.mesh);
  const files = castFiles(outcome, report, { sheet, note, surfaces });
  return { files: await Promise.all(files.map(store)), summary: summaryOf(report) };
}

function summaryOf({ castCheck, marks, measurements, sizes, scan, last, stages, warnings }: Report): RevisionSummary {
  const decided = (decision: string): number => marks.filter((mark) => mark.decision === decision).length;
  return {
    verdict: castCheck.verdict,
    findings: castCheck.findings.map(({ code, severity, text }) => ({ code, severity, text })),
    marks: { smooth: decided('smooth'), keep: decided('keep'), ask: decided('ask') },
    measurements,
    sizes,
    triangles: { scan: scan.triangles, last: last.triangles },
    stages,
    warnings,
  };
}

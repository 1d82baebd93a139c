import type { StageName, Step } from '@cast-to-last/pipeline/outcome';
import type { StageRecord } from '@cast-to-last/pipeline/report/report';
import cliProgress from 'cli-progress';

const WORDS: Record<StageName, string> = {
  'read-scan': 'reading the scan',
  repair: 'repairing the surface',
  shell: 'finding the inside of the shell',
  align: 'standing it up',
  'find-marks': 'finding marks',
  'smooth-marks': 'smoothing marks',
  measure: 'measuring',
  'check-cast': 'checking the cast',
  'build-last': 'building the last',
  'draw-sheet': 'drawing the sheet',
  'draw-note': 'drawing the note to the customer',
};

export interface ProgressOptions {
  /** Stages that will run, for the bar's length; it grows where more do. */
  readonly stages: number;
  readonly quiet: boolean;
  readonly out: NodeJS.WriteStream;
}

export interface Progress {
  readonly step: Step;
  readonly stages: StageRecord[];
  /** Takes the bar off the terminal. */
  stop(): void;
}

/** Times the stages and tells how far the work is: a bar on a terminal, a line a stage elsewhere, nothing where quiet. */
export function followStages({ stages: total, quiet, out }: ProgressOptions): Progress {
  const bar = !quiet && out.isTTY
    ? new cliProgress.SingleBar({ format: '{bar} {value}/{total} {doing}', stream: out, clearOnComplete: true, hideCursor: true, barsize: 24 }, cliProgress.Presets.legacy)
    : null;
  bar?.start(total, 0, { doing: '' });
  const stages: StageRecord[] = [];
  const step: Step = async (name, key, run) => {
    bar?.setTotal(Math.max(total, stages.length + 1));
    bar?.update(stages.length, { doing: WORDS[name] });
    // The bar draws on a timer that the stage will hold up, so draw it before.
    bar?.render();
    const start = performance.now();
    const result = await run();
    const durationMs = Math.round((performance.now() - start) * 1000) / 1000;
    stages.push({ name, durationMs, cached: false, key });
    bar?.update(stages.length);
    if (bar === null && !quiet) out.write(`${WORDS[name]}: ${(durationMs / 1000).toFixed(2)} s\n`);
    return result;
  };
  return { step, stages, stop: () => bar?.stop() };
}

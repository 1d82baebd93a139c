import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import type { Readable } from 'node:stream';
import type { Report } from '@cast-to-last/pipeline/report/report';
import type { BenchCast } from './bench-cast.js';

/** One run of the command in a process of its own. Times in ms. */
export interface TimedRun {
  /** By stage, in the order of the work, from the command's own report; start-up before them, the files after. */
  readonly stages: ReadonlyMap<string, number>;
  /** From the start of the process to its end. */
  readonly wallMs: number;
  /** Processor time of all threads; the engine compiles and collects garbage on threads of its own. */
  readonly cpuMs: number;
  readonly peakBytes: number;
}

const path = (relative: string): string => new URL(relative, import.meta.url).pathname;

/** What one run of any command took; times in ms. */
export type TimedCommand = Pick<TimedRun, 'wallMs' | 'cpuMs' | 'peakBytes'>;

/** `cast-to-last process` on the cast, with all its files, by the rules of a file or by the default. Throws Error where it does not end well. */
export async function timeRun(cast: BenchCast, rules: readonly string[] = []): Promise<TimedRun> {
  return inFolder(async (folder) => {
    const { firstLineMs, ...timed } = await timeCommand(['process', cast.path, '--side', cast.side, ...rules, '--out', folder]);
    const report = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8')) as Report;
    const stages = new Map<string, number>([['start-up', firstLineMs - report.stages[0].durationMs]]);
    for (const { name, durationMs } of report.stages) stages.set(name, durationMs);
    // Some of that work is done before the sheet is drawn, so it is what no other row holds.
    stages.set('making and writing the files', timed.wallMs - [...stages.values()].reduce((sum, ms) => sum + ms, 0));
    return { stages, ...timed };
  });
}

/** `cast-to-last make` on what `process` wrote of the cast by the same rules, which is not timed. */
export async function timeMake(cast: BenchCast, rules: readonly string[]): Promise<TimedCommand> {
  return inFolder(async (folder) => {
    await timeCommand(['process', cast.path, '--side', cast.side, ...rules, '--no-sheet', '--out', join(folder, 'cast')]);
    return timeCommand(['make', join(folder, 'cast'), '--out', join(folder, 'made')]);
  });
}

async function inFolder<T>(use: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-bench-out-'));
  try {
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function timeCommand(args: readonly string[]): Promise<TimedCommand & { readonly firstLineMs: number }> {
  const start = performance.now();
  const child = spawn(process.execPath, ['--import', path('./say-peak-memory.mjs'), path('../../packages/cli/dist/main.js'), ...args], { stdio: ['ignore', 'ignore', 'pipe', 'pipe'] });
  // The command says a line at the end of each stage: when the first came gives the start-up.
  let firstLineMs = NaN;
  let said = '';
  child.stderr?.on('data', (chunk: Buffer) => {
    said += chunk.toString('utf8');
    if (Number.isNaN(firstLineMs) && said.includes('\n')) firstLineMs = performance.now() - start;
  });
  let usage = '';
  (child.stdio[3] as Readable).on('data', (chunk: Buffer) => (usage += chunk.toString('utf8')));
  const code = await new Promise<number | null>((resolve, reject) => child.once('error', reject).once('close', resolve));
  const wallMs = performance.now() - start;
  if (code !== 0) throw new Error(`the command ended with exit code ${code}: ${said}`);
  return { firstLineMs, wallMs, ...(JSON.parse(usage) as Pick<TimedRun, 'cpuMs' | 'peakBytes'>) };
}

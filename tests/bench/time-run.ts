import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import type { Readable } from 'node:stream';
import type { Report } from '@cast-to-last/pipeline/report';
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

/** `cast-to-last process` on the cast, with all its files. Throws Error where it does not end well. */
export async function timeRun(cast: BenchCast): Promise<TimedRun> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-bench-out-'));
  try {
    const start = performance.now();
    const child = spawn(
      process.execPath,
      ['--import', path('./say-peak-memory.mjs'), path('../../packages/cli/dist/main.js'), 'process', cast.path, '--side', cast.side, '--out', folder],
      { stdio: ['ignore', 'ignore', 'pipe', 'pipe'] },
    );
    // The command says a line at the end of each stage: when the first came gives the start-up.
    let firstEnd = NaN;
    let said = '';
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString('utf8');
      if (Number.isNaN(firstEnd) && said.includes('\n')) firstEnd = performance.now();
    });
    let usage = '';
    (child.stdio[3] as Readable).on('data', (chunk: Buffer) => (usage += chunk.toString('utf8')));
    const code = await new Promise<number | null>((resolve, reject) => child.once('error', reject).once('close', resolve));
    const end = performance.now();
    if (code !== 0) throw new Error(`the command ended with exit code ${code}: ${said}`);
    const report = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8')) as Report;
    const stages = new Map<string, number>([['start-up', firstEnd - start - report.stages[0].durationMs]]);
    for (const { name, durationMs } of report.stages) stages.set(name, durationMs);
    // Some of that work is done before the sheet is drawn, so it is what no other row holds.
    stages.set('making and writing the files', end - start - [...stages.values()].reduce((sum, ms) => sum + ms, 0));
    return { stages, wallMs: end - start, ...(JSON.parse(usage) as Pick<TimedRun, 'cpuMs' | 'peakBytes'>) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

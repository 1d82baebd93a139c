import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { onTestFinished } from 'vitest';
import { ENGINE_FLAGS } from './engine-flags.ts';

/** A program that a test started. */
export interface Program {
  readonly pid: number;
  /** Lines that it wrote to standard output so far. */
  readonly lines: readonly string[];
  /** Waits for a line that is wanted; throws where the program ends before, with what it wrote to standard error. */
  line(isWanted: (line: string) => boolean): Promise<string>;
  /** Waits until it ends by itself; the signal that ended it, if one did. */
  ended(): Promise<NodeJS.Signals | null>;
  /** As by a power cut. */
  kill(): Promise<void>;
  /** Asks it to stop; its exit code. */
  stop(): Promise<number | null>;
}

/** Starts a program of Node.js; it is killed at the end of the test where it still runs. */
export function startProgram(file: string, args: readonly string[], env: Readonly<Record<string, string>> = {}): Program {
  const child = spawn(process.execPath, [...ENGINE_FLAGS, file, ...args], { env: { PATH: process.env.PATH, ...env }, stdio: ['ignore', 'pipe', 'pipe'] });
  const lines: string[] = [];
  let errors = '';
  child.stderr.on('data', (bytes) => (errors += String(bytes)));
  const reader = createInterface(child.stdout);
  reader.on('line', (line) => lines.push(line));
  const ended = once(child, 'exit');
  onTestFinished(() => void child.kill('SIGKILL'));
  return {
    pid: child.pid ?? 0,
    lines,
    line: async (isWanted) => {
      for (let seen = 0; ; ) {
        for (; seen < lines.length; seen++) if (isWanted(lines[seen])) return lines[seen];
        if (child.exitCode !== null || child.signalCode !== null) throw new Error(`The program ended with ${child.exitCode ?? child.signalCode}: ${errors}`);
        await Promise.race([once(reader, 'line'), ended]);
      }
    },
    ended: async () => {
      await ended;
      return child.signalCode;
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
      return child.exitCode;
    },
  };
}

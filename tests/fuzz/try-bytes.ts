import type { Target } from './target.js';

/** Gives the bytes to the target: what broke, in a sentence, or null; and the processor time that it took. */
export async function tryBytes(target: Target, bytes: Uint8Array): Promise<{ readonly fault: string | null; readonly ms: number }> {
  const start = process.cpuUsage();
  let fault: string | null = null;
  try {
    await target.take(bytes);
  } catch (error) {
    fault = error instanceof Error ? `${error.name}: ${error.message} ${error.stack?.split('\n')[1]?.trim() ?? ''}` : String(error);
  }
  const { user, system } = process.cpuUsage(start);
  const ms = (user + system) / 1000;
  return { fault: fault ?? (ms > target.limitMs ? `took ${ms.toFixed(0)} ms` : null), ms };
}

/** Waits for all to end; after so many milliseconds has them stopped, and waits for that. */
export async function endWithin(running: ReadonlySet<Promise<void>>, ms: number, stop: () => void): Promise<void> {
  if (running.size === 0) return;
  const timer = setTimeout(stop, ms);
  await Promise.allSettled(running);
  clearTimeout(timer);
}

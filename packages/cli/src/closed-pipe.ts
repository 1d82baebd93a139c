/**
 * A reader that has enough closes the pipe, as `head` does. What is printed after that is for nobody and is dropped; the work
 * goes on to its files and its exit code.
 */
export function dropWhatNobodyReads(...streams: readonly NodeJS.WriteStream[]): void {
  for (const stream of streams) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
    });
  }
}

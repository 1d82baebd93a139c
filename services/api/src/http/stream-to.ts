import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Response } from 'express';

/** Sends a stream as the body. An asker who goes away meanwhile is no fault: there is no one to tell. */
export async function streamTo(response: Response, stream: Readable): Promise<void> {
  await pipeline(stream, response).catch((error: unknown) => {
    if ((error as NodeJS.ErrnoException).code !== 'ERR_STREAM_PREMATURE_CLOSE') throw error;
  });
}

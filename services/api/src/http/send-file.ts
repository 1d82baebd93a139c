import type { Request, Response } from 'express';
import type { Artifacts } from '@cast-to-last/runtime/artifacts/artifacts';
import type { ByteRange } from '@cast-to-last/runtime/artifacts/blobs';
import { asAttachment, fileNamed } from './file-name.js';
import { Problem } from './problem.js';
import { streamTo } from './stream-to.js';

const TYPES: ReadonlyMap<string, string> = new Map(Object.entries({
  json: 'application/json', csv: 'text/csv; charset=utf-8', pdf: 'application/pdf', stl: 'model/stl', '3mf': 'model/3mf', glb: 'model/gltf-binary', svg: 'image/svg+xml',
}));
/** Of a file of results, by the ending of its name. */
export const mediaType = (name: string): string => TYPES.get(name.slice(name.lastIndexOf('.') + 1)) ?? 'application/octet-stream';

export interface SentFile {
  readonly sha256: string;
  /** bytes */
  readonly size: number;
  /** Media type. */
  readonly type: string;
  /** The name under which a browser keeps it. */
  readonly offeredAs: string;
  /** Whether the address will always give these bytes. */
  readonly lasting: boolean;
  /** Shown by the browser in place of being kept. */
  readonly shown?: boolean;
}

/** Sends a stored file, or the part that was asked for; nothing where the asker has it already. */
export async function sendFile(artifacts: Artifacts, request: Request, response: Response, { sha256, size, type, offeredAs, lasting, shown = false }: SentFile): Promise<void> {
  const etag = `"${sha256}"`;
  response.set({
    ETag: etag, 'Content-Type': type, 'Accept-Ranges': 'bytes', 'Cache-Control': lasting ? 'private, max-age=31536000, immutable' : 'private, no-cache',
    'Content-Disposition': shown ? `inline; ${fileNamed(offeredAs)}` : asAttachment(offeredAs),
  });
  const has = request.headers['if-none-match'];
  if (has !== undefined && (has === '*' || has.split(',').some((tag) => tag.trim().replace(/^W\//, '') === etag))) {
    response.status(304).end();
    return;
  }
  const condition = request.headers['if-range'];
  const range = condition === undefined || condition === etag ? rangeOf(request.headers.range, size) : null;
  if (range === null) response.set('Content-Length', String(size));
  else response.status(206).set({ 'Content-Range': `bytes ${range.start}-${range.end}/${size}`, 'Content-Length': String(range.end - range.start + 1) });
  if (request.method === 'HEAD') {
    response.end();
    return;
  }
  const { stream } = await artifacts.read(sha256, range ?? undefined);
  await streamTo(response, stream);
}

/** The one range that was asked for; null for the whole, also where several were asked for. Throws Problem 416. */
function rangeOf(header: string | undefined, size: number): ByteRange | null {
  const asked = /^bytes=(\d*)-(\d*)$/.exec(header ?? '');
  if (asked === null || (asked[1] === '' && asked[2] === '')) return null;
  const start = asked[1] === '' ? Math.max(0, size - Number(asked[2])) : Number(asked[1]);
  const end = asked[1] === '' || asked[2] === '' ? size - 1 : Math.min(size - 1, Number(asked[2]));
  if (start > end) throw new Problem(416, 'no-such-range', `The file has ${size} bytes.`, 'Ask for bytes that there are.', { headers: { 'Content-Range': `bytes */${size}` } });
  return { start, end };
}

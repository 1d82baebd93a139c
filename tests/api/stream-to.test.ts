import { once } from 'node:events';
import { createServer, get } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Readable } from 'node:stream';
import type { Response } from 'express';
import { afterEach, describe, expect, it } from 'vitest';
import { streamTo } from '@cast-to-last/api/http/stream-to';

let close: () => void = () => undefined;
afterEach(() => close());

/** Answers one request by a stream; how that ended. */
async function answered(stream: Readable, ask: (url: string) => void): Promise<unknown> {
  let ended: Promise<unknown> | null = null;
  const server = createServer((_request, response) => {
    ended = streamTo(response as unknown as Response, stream).then(() => 'sent', (error: Error) => error.message);
  });
  close = () => server.closeAllConnections();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  ask(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
  await once(server, 'request');
  const how = await ended;
  server.close();
  return how;
}

const endless = (): Readable => Readable.from((function* chunks() {
  for (;;) yield Buffer.alloc(65_536);
})());

describe('streamTo', () => {
  it('takes an asker who goes away in the middle for no fault', async () => {
    const how = await answered(endless(), (url) => {
      const request = get(url, (response) => response.once('data', () => request.destroy()));
      request.on('error', () => undefined);
    });
    expect(how).toBe('sent');
  });

  it('hands on that what is sent cannot be read', async () => {
    const broken = new Readable({ read() {
      this.destroy(new Error('the disk is gone'));
    } });
    expect(await answered(broken, (url) => get(url).on('error', () => undefined))).toBe('the disk is gone');
  });
});

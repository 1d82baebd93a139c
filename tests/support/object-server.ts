import { createHash, createHmac, timingSafeEqual } from 'node:crypto';
import { createServer } from 'node:http';
import type { IncomingMessage } from 'node:http';
import { buffer } from 'node:stream/consumers';
import { onTestFinished } from 'vitest';
import type { ObjectStoreConfig } from '@cast-to-last/runtime/config';

/**
 * A server for tests that speaks the part of the S3 protocol that the service uses, and checks signatures (AWS Signature
 * Version 4) on its own: put, get with ranges, head, delete, list in pages of two. From the published protocol; no real
 * object store stands behind it.
 */
export async function startObjectServer(): Promise<ObjectStoreConfig & { readonly objects: Map<string, Buffer> }> {
  const config = { bucket: 'casts', region: 'eu-test-1', accessKey: 'test-key', secretKey: 'test-secret' };
  const objects = new Map<string, Buffer>();
  const server = createServer((request, response) => {
    void answer(request).then(({ status, headers = {}, body = '' }) => response.writeHead(status, headers).end(request.method === 'HEAD' ? undefined : body));
  });
  interface Answer {
    readonly status: number;
    readonly headers?: Record<string, string | number>;
    readonly body?: string | Buffer;
  }
  const refuse = (status: number, code: string): Answer => ({ status, headers: { 'content-type': 'application/xml' }, body: `<Error><Code>${code}</Code></Error>` });

  async function answer(request: IncomingMessage): Promise<Answer> {
    const body = await buffer(request);
    if (!isSigned(request, body, config)) return refuse(403, 'SignatureDoesNotMatch');
    const url = new URL(request.url ?? '', 'http://server');
    const [, bucket, ...rest] = url.pathname.split('/');
    if (bucket !== config.bucket) return refuse(404, 'NoSuchBucket');
    const key = rest.join('/');
    if (request.method === 'GET' && key === '') return list(url);
    if (request.method === 'PUT') {
      objects.set(key, body);
      return { status: 200, headers: { etag: '"made-up"' } };
    }
    if (request.method === 'DELETE') {
      objects.delete(key);
      return { status: 204 };
    }
    const object = objects.get(key);
    if (object === undefined) return refuse(404, 'NoSuchKey');
    const headers = { 'last-modified': new Date(0).toUTCString(), 'content-type': 'application/octet-stream' };
    const range = /^bytes=(\d+)-(\d+)$/.exec(request.headers.range ?? '');
    if (range === null) return { status: 200, headers: { ...headers, 'content-length': object.length }, body: object };
    const part = object.subarray(Number(range[1]), Number(range[2]) + 1);
    return { status: 206, headers: { ...headers, 'content-length': part.length, 'content-range': `bytes ${range[1]}-${range[2]}/${object.length}` }, body: part };
  }

  function list(url: URL): Answer {
    const after = url.searchParams.get('continuation-token') ?? '';
    const keys = [...objects.keys()].filter((key) => key.startsWith(url.searchParams.get('prefix') ?? '') && key > after).sort();
    const page = keys.slice(0, 2);
    const contents = page.map((key) => `<Contents><Key>${key}</Key><Size>${objects.get(key)?.length}</Size><LastModified>1970-01-01T00:00:00.000Z</LastModified></Contents>`).join('');
    const next = keys.length > 2 ? `<IsTruncated>true</IsTruncated><NextContinuationToken>${page[1]}</NextContinuationToken>` : '<IsTruncated>false</IsTruncated>';
    return { status: 200, headers: { 'content-type': 'application/xml' }, body: `<ListBucketResult>${contents}${next}</ListBucketResult>` };
  }

  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const address = server.address();
  return { ...config, endpoint: `http://127.0.0.1:${typeof address === 'object' ? address?.port : ''}`, objects };
}

const sha256 = (bytes: Buffer | string): string => createHash('sha256').update(bytes).digest('hex');
const hmac = (key: Buffer | string, text: string): Buffer => createHmac('sha256', key).update(text).digest();

/** Whether a request bears the signature of the secret key over its method, path, query, signed headers and body. */
function isSigned(request: IncomingMessage, body: Buffer, { accessKey, secretKey, region }: Pick<ObjectStoreConfig, 'accessKey' | 'secretKey' | 'region'>): boolean {
  const parts = /^AWS4-HMAC-SHA256 Credential=([^/]+)\/(\d+)\/([^/]+)\/s3\/aws4_request, SignedHeaders=([^,]+), Signature=([0-9a-f]{64})$/.exec(request.headers.authorization ?? '');
  if (parts === null) return false;
  const [, key, day, place, names, signature] = parts;
  const claimed = String(request.headers['x-amz-content-sha256']);
  if (key !== accessKey || place !== region || (claimed !== 'UNSIGNED-PAYLOAD' && claimed !== sha256(body))) return false;
  const url = new URL(request.url ?? '', 'http://server');
  const query = [...url.searchParams].map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(value)}`).sort().join('&');
  const headers = names.split(';').map((name) => `${name}:${String(request.headers[name]).trim()}\n`).join('');
  const canonical = [request.method, url.pathname, query, headers, names, claimed].join('\n');
  const toSign = ['AWS4-HMAC-SHA256', request.headers['x-amz-date'], `${day}/${region}/s3/aws4_request`, sha256(canonical)].join('\n');
  const signingKey = ['s3', 'aws4_request'].reduce(hmac, hmac(hmac(`AWS4${secretKey}`, day), region));
  return timingSafeEqual(Buffer.from(signature), Buffer.from(hmac(signingKey, toSign).toString('hex')));
}

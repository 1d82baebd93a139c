import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { DeleteObjectCommand, GetObjectCommand, HeadObjectCommand, ListObjectsV2Command, PutObjectCommand, S3Client, S3ServiceException } from '@aws-sdk/client-s3';
import type { ObjectStoreConfig } from '../config.js';
import { checkKey } from './blobs.js';
import type { Blobs } from './blobs.js';

/** Blobs as objects of a bucket in an S3-compatible store, which has to be there. An object is seen whole or not at all. */
export function openObjectStoreBlobs({ endpoint, bucket: Bucket, region, accessKey, secretKey }: ObjectStoreConfig): Blobs {
  const client = new S3Client({
    endpoint, region, forcePathStyle: true, credentials: { accessKeyId: accessKey, secretAccessKey: secretKey },
    // Not every compatible store knows the newer checksums; the digests of artifacts are checked on reading.
    requestChecksumCalculation: 'WHEN_REQUIRED', responseChecksumValidation: 'WHEN_REQUIRED',
  });
  const at = (key: string) => ({ Bucket, Key: checkKey(key) });
  const get = async (key: string, range?: { start: number; end: number }) => {
    const Range = range === undefined ? undefined : `bytes=${range.start}-${range.end}`;
    const found = await client.send(new GetObjectCommand({ ...at(key), Range })).catch(nullWhereMissing);
    if (found === null) return null;
    const whole = /\/(\d+)$/.exec(found.ContentRange ?? '')?.[1];
    return { size: Number(whole ?? found.ContentLength ?? 0), stream: found.Body as Readable };
  };
  return {
    put: async (key, bytes) => {
      await client.send(new PutObjectCommand({ ...at(key), Body: bytes, ContentLength: bytes.length }));
    },
    putFile: async (key, path) => {
      await client.send(new PutObjectCommand({ ...at(key), Body: createReadStream(path), ContentLength: (await stat(path)).size }));
    },
    get,
    bytes: async (key) => {
      const found = await get(key);
      return found === null ? null : buffer(found.stream);
    },
    stat: async (key) => {
      const found = await client.send(new HeadObjectCommand(at(key))).catch(nullWhereMissing);
      return found === null ? null : { key, size: found.ContentLength ?? 0, changedAtMs: found.LastModified?.getTime() ?? 0 };
    },
    remove: async (key) => {
      await client.send(new DeleteObjectCommand(at(key)));
    },
    list: async function* list(Prefix) {
      let ContinuationToken: string | undefined;
      do {
        const page = await client.send(new ListObjectsV2Command({ Bucket, Prefix, ContinuationToken }));
        for (const { Key, Size, LastModified } of page.Contents ?? []) {
          if (Key !== undefined) yield { key: Key, size: Size ?? 0, changedAtMs: LastModified?.getTime() ?? 0 };
        }
        ContinuationToken = page.IsTruncated ? page.NextContinuationToken : undefined;
      } while (ContinuationToken !== undefined);
    },
    // The age of an object is that of its bytes.
    touch: async () => undefined,
  };
}

function nullWhereMissing(error: unknown): null {
  if (error instanceof S3ServiceException && error.$metadata.httpStatusCode === 404 && error.name !== 'NoSuchBucket') return null;
  throw error;
}

import { spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { CreateBucketCommand, DeleteObjectCommand, PutObjectCommand, S3Client } from '@aws-sdk/client-s3';
import type { ObjectStoreConfig } from '@cast-to-last/runtime/config';
import { freePort } from './free-port.js';

/** An object store of its own: OpenStack Swift (Apache-2.0, from Debian) with its S3 interface, on one device. */
export interface ObjectServer {
  /** With an empty bucket. */
  readonly config: ObjectStoreConfig;
  stop(): Promise<void>;
}

const REGION = 'eu-test-1';
const PARTS = ['account', 'container', 'object'] as const;
const CREDENTIALS = { accessKey: 'test:key', secretKey: 'test-secret' };

const section = (name: string, settings: Readonly<Record<string, string | number>>): string => `[${name}]\n${Object.entries(settings).map(([key, value]) => `${key} = ${value}`).join('\n')}\n`;

export async function startObjectServer(): Promise<ObjectServer> {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-objects-'));
  mkdirSync(join(folder, 'nodes', 'd1'), { recursive: true });
  const common = { bind_ip: '127.0.0.1', user: userInfo().username, swift_dir: folder, workers: 0 };
  const children: ChildProcess[] = [];
  const start = (name: string, text: string): void => {
    writeFileSync(join(folder, `${name}.conf`), text);
    children.push(spawn(`swift-${name}-server`, [join(folder, `${name}.conf`)], { stdio: 'ignore' }));
  };
  const stop = async (): Promise<void> => {
    await Promise.all(children.map(async (child) => {
      if (child.exitCode === null && child.signalCode === null) {
        child.kill('SIGKILL');
        await once(child, 'exit');
      }
    }));
    rmSync(folder, { recursive: true, force: true });
  };
  for (const part of PARTS) {
    const port = await freePort();
    for (const step of [['create', '2', '1', '1'], ['add', `r1z1-127.0.0.1:${port}/d1`, '1'], ['rebalance']]) {
      const { status, stdout, stderr } = spawnSync('swift-ring-builder', [join(folder, `${part}.builder`), ...step], { encoding: 'utf8' });
      if (status !== 0) throw new Error(`swift-ring-builder ${step[0]}: ${stdout}${stderr}`);
    }
    start(part, section('DEFAULT', { ...common, bind_port: port, devices: join(folder, 'nodes'), mount_check: 'false', fallocate_reserve: 0 })
      + section('pipeline:main', { pipeline: `${part}-server` }) + section(`app:${part}-server`, { use: `egg:swift#${part}` }));
  }
  const port = await freePort();
  start('proxy', section('DEFAULT', { ...common, bind_port: port }) + section('pipeline:main', { pipeline: 'catch_errors gatekeeper cache s3api tempauth proxy-server' })
    + section('app:proxy-server', { use: 'egg:swift#proxy', account_autocreate: 'true', node_timeout: 60, conn_timeout: 10, recoverable_node_timeout: 60 }) + section('filter:catch_errors', { use: 'egg:swift#catch_errors' })
    + section('filter:gatekeeper', { use: 'egg:swift#gatekeeper' }) + section('filter:cache', { use: 'egg:swift#memcache', memcache_servers: '127.0.0.1:1' })
    // Pages of two, so that lists go over several.
    + section('filter:s3api', { use: 'egg:swift#s3api', location: REGION, auth_pipeline_check: 'false', max_bucket_listing: 2 })
    + section('filter:tempauth', { use: 'egg:swift#tempauth', user_test_key: `${CREDENTIALS.secretKey} .admin` }));
  const config = { endpoint: `http://127.0.0.1:${port}`, bucket: 'casts', region: REGION, ...CREDENTIALS };
  try {
    await makeBucket(config);
    return { config, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Once the parts answer. */
async function makeBucket({ endpoint, region, bucket, accessKey, secretKey }: ObjectStoreConfig): Promise<void> {
  const client = new S3Client({ endpoint, region, forcePathStyle: true, credentials: { accessKeyId: accessKey, secretAccessKey: secretKey }, maxAttempts: 1 });
  const end = Date.now() + 180_000;
  for (let made = false; ; ) {
    try {
      if (!made) await client.send(new CreateBucketCommand({ Bucket: bucket, CreateBucketConfiguration: { LocationConstraint: region as never } }));
      made = true;
      await client.send(new PutObjectCommand({ Bucket: bucket, Key: 'ready', Body: 'ready' }));
      await client.send(new DeleteObjectCommand({ Bucket: bucket, Key: 'ready' }));
      return;
    } catch (error) {
      // A try whose answer was lost may have made it.
      made ||= (error as Error).name === 'BucketAlreadyOwnedByYou';
      if (Date.now() > end) throw error;
      await wait(200);
    }
  }
}

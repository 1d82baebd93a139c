import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { ConfigError } from '@cast-to-last/runtime/config';
import type { Config } from '@cast-to-last/runtime/config';
import type { Log } from '@cast-to-last/runtime/log';
import { openRuntime } from '@cast-to-last/runtime/runtime';
import type { Runtime } from '@cast-to-last/runtime/runtime';
import { hasAccounts, hasOpenLink, offerFirstAccount } from './access/first-account.js';
import { openBatchKeeper } from './batches/batch-keeper.js';
import { openChangeFeed } from './events/change-feed.js';
import { createApp } from './http/app.js';
import { openMetrics } from './http/metrics.js';
import { describeApi } from './openapi/describe-api.js';
import { ROUTES } from './routes/all-routes.js';
import { addDefaultRules } from './routes/rules/add-default-rules.js';
import { keepRetention } from './retention/keep-retention.js';
import { openTaskThread } from './threads/task-thread.js';

/** The service while it listens. */
export interface OpenService {
  readonly runtime: Runtime;
  /** As browsers reach it, without a slash at the end. */
  readonly url: string;
  /** Where the first account is made; null where there are accounts. */
  readonly firstAccountUrl: string | null;
  /** Answers what was asked, takes nothing new, ends the jobs that run or sends them back, and lets go of everything. */
  close(): Promise<void>;
}

const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);
/** Requests that still run when the service closes are given so long. */
const GRACE_MS = 10_000;

/** Opens all that the settings ask for and listens; `samples`: folder of sample orders and scans that is offered for the first steps. Throws as openRuntime does, and ConfigError where it may not listen so wide. */
export async function openService(config: Config, log: Log, samples: string | null = null): Promise<OpenService> {
  const runtime = await openRuntime(config, log);
  try {
    const { host, port, publicUrl } = config.http;
    const { db } = runtime.records;
    // A link that was asked for beforehand is the way in; a new one, on the console of a container, nobody would see.
    const asked = !LOOPBACK.has(host) && !(await hasAccounts(db)) && (await hasOpenLink(db));
    if (!LOOPBACK.has(host) && !asked && !(await hasAccounts(db))) {
      throw new ConfigError([`HTTP_HOST is ${host}, but there is no account yet: start once with HTTP_HOST=127.0.0.1 and make the first account, or print a link for it with \`npm run upkeep -- first-account\`, then listen wider`]);
    }
    await addDefaultRules(runtime.records);
    const feed = openChangeFeed(runtime);
    const metrics = openMetrics(runtime.jobs);
    const batches = openBatchKeeper(runtime, openTaskThread(config));
    const geometry = openTaskThread(config);
    const retention = keepRetention(runtime);
    const server = createServer(createApp({ runtime, metrics, feed, batches, geometry, samples, description: describeApi(ROUTES), secure: publicUrl?.startsWith('https:') ?? !LOOPBACK.has(host) }));
    // A scan over a poor line takes as long as it takes.
    server.requestTimeout = 0;
    server.headersTimeout = 70_000;
    // Longer than proxies and browsers keep a connection: the one who closes it first must not be the service.
    server.keepAliveTimeout = 65_000;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, host, resolve);
    });
    const address = server.address() as AddressInfo;
    const url = (publicUrl ?? `http://${host.includes(':') ? `[${host}]` : host}:${address.port}`).replace(/\/$/, '');
    const secret = asked ? null : await offerFirstAccount(runtime.records);
    return {
      runtime, url,
      firstAccountUrl: secret === null ? null : `${url}/welcome#${secret}`,
      close: async () => {
        feed.close();
        const closed = new Promise<void>((resolve) => {
          server.close(() => resolve());
        });
        server.closeIdleConnections();
        const hurry = setTimeout(() => server.closeAllConnections(), GRACE_MS);
        await closed;
        clearTimeout(hurry);
        retention.close();
        await Promise.all([batches.close(), geometry.close()]);
        await runtime.close();
      },
    };
  } catch (error) {
    await runtime.close();
    throw error;
  }
}

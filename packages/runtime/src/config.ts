import { z } from 'zod';
import { READ_MESH_DEFAULTS } from '@cast-to-last/geometry/formats/mesh-file';

/** The settings of a running program. This file alone reads the environment. */

/** One variable: how it is read, and the line that documents it. */
interface Variable<T extends z.ZodType> {
  readonly schema: T;
  readonly meaning: string;
}

const variable = <T extends z.ZodType>(meaning: string, schema: T): Variable<T> => ({ schema, meaning });
const whole = (least: number, most: number, otherwise: number) =>
  z.string().regex(/^-?\d+$/, 'must be a whole number').default(String(otherwise)).transform(Number)
    .refine((n) => n >= least && n <= most, `must be between ${least} and ${most}`);
const text = z.string().min(1);
const url = (...schemes: string[]) =>
  text.refine((value) => URL.canParse(value) && schemes.includes(new URL(value).protocol), `must be a URL that begins with ${schemes.map((s) => `${s}//`).join(' or ')}`);

/** Every variable that is read, in the order of the documentation. */
export const VARIABLES = {
  CAST_DATA_FOLDER: variable('folder of the database, the files and the stored results', text.default('data')),
  DATABASE_URL: variable('PostgreSQL server; without it the database is in the data folder', url('postgres:', 'postgresql:').optional()),
  REDIS_URL: variable('Redis server for the queue; without it jobs run in this process', url('redis:', 'rediss:').optional()),
  S3_ENDPOINT: variable('object store; without it files are in the data folder', url('http:', 'https:').optional()),
  S3_BUCKET: variable('bucket in the object store', text.optional()),
  S3_REGION: variable('region of the object store', text.default('us-east-1')),
  S3_ACCESS_KEY: variable('access key of the object store', text.optional()),
  S3_SECRET_KEY: variable('secret key of the object store', text.optional()),
  LOG_LEVEL: variable('least level that is logged', z.enum(['trace', 'debug', 'info', 'warn', 'error', 'silent']).default('info')),
  HTTP_HOST: variable('address to listen on', text.default('127.0.0.1')),
  HTTP_PORT: variable('port to listen on; 0 takes a free one', whole(0, 65535, 0)),
  PUBLIC_URL: variable('address that browsers use, where it is not the one listened on', url('http:', 'https:').optional()),
  METRICS_TOKEN: variable('token by which a program on another machine reads the metrics; without it only this machine and administrators do', z.string().regex(/^[\x21-\x7e]{32,200}$/, 'must be 32 to 200 characters without spaces').optional()),
  WORK: variable('local: casts are worked on here; none: cast-workers do it', z.enum(['local', 'none']).default('local')),
  WORK_THREADS: variable('casts worked on at a time by one process', whole(1, 64, 1)),
  JOB_TIMEOUT_S: variable('seconds after which a cast is stopped', whole(1, 86_400, 300)),
  JOB_MEMORY_MB: variable('memory of one cast, MB', whole(256, 65_536, 1536)),
  JOB_LEASE_S: variable('seconds after which the job of a worker that no longer speaks is given to another', whole(1, 3600, 30)),
  RECONCILE_S: variable('seconds between two looks for jobs that the queue does not know', whole(1, 3600, 10)),
  DRAIN_S: variable('seconds that running casts are given when the program is asked to stop', whole(0, 3600, 30)),
  CACHE_GB: variable('space for results of stages, GB', whole(0, 100_000, 20)),
  UPLOAD_MAX_MB: variable('largest scan that is taken, unpacked and as it is sent, MB', whole(1, 10_000, 500)),
  UPLOAD_MAX_TRIANGLES: variable('most triangles of a scan that is taken', whole(1000, READ_MESH_DEFAULTS.maxTriangles, READ_MESH_DEFAULTS.maxTriangles)),
} as const;

const schemas = Object.fromEntries(Object.entries(VARIABLES).map(([name, { schema }]) => [name, schema]));
const environment = z.object(schemas as { [Name in keyof typeof VARIABLES]: (typeof VARIABLES)[Name]['schema'] });
type Environment = z.output<typeof environment>;

export interface Config {
  readonly dataFolder: string;
  readonly databaseUrl: string | null;
  readonly redisUrl: string | null;
  readonly objectStore: ObjectStoreConfig | null;
  readonly logLevel: Environment['LOG_LEVEL'];
  readonly http: { readonly host: string; readonly port: number; readonly publicUrl: string | null };
  readonly metricsToken: string | null;
  readonly work: WorkConfig;
  readonly jobs: JobsConfig;
  readonly cacheBytes: number;
  readonly uploadMaxBytes: number;
  readonly uploadMaxTriangles: number;
}

export interface ObjectStoreConfig {
  readonly endpoint: string;
  readonly bucket: string;
  readonly region: string;
  readonly accessKey: string;
  readonly secretKey: string;
}

export interface WorkConfig {
  readonly here: boolean;
  readonly threads: number;
  readonly timeoutMs: number;
  readonly memoryMb: number;
}

export interface JobsConfig {
  readonly leaseMs: number;
  readonly reconcileMs: number;
  readonly drainMs: number;
}

/** Settings that cannot be used; every fault is listed. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';
  readonly faults: readonly string[];

  constructor(faults: readonly string[]) {
    super(`The settings cannot be used:\n${faults.map((fault) => `  ${fault}`).join('\n')}`);
    this.faults = faults;
  }
}

/** The settings in `env`. An empty variable counts as none. Throws ConfigError that lists every fault at once. */
export function readConfig(env: Readonly<Record<string, string | undefined>> = process.env): Config {
  const given = Object.fromEntries(Object.keys(VARIABLES).map((name) => [name, env[name] === '' ? undefined : env[name]]));
  const parsed = environment.safeParse(given);
  const faults = parsed.success ? [] : parsed.error.issues.map((issue) => `${String(issue.path[0])} ${issue.message}`);
  const store = ['S3_ENDPOINT', 'S3_BUCKET', 'S3_ACCESS_KEY', 'S3_SECRET_KEY'] as const;
  if (store.some((name) => given[name] !== undefined)) {
    for (const name of store) if (given[name] === undefined) faults.push(`${name} is missing: an object store needs ${store.join(', ')}`);
  }
  if (given.WORK === 'none' && given.REDIS_URL === undefined) faults.push('WORK none needs REDIS_URL: without a queue no other process can take the jobs');
  if (given.REDIS_URL !== undefined && given.DATABASE_URL === undefined) faults.push('REDIS_URL needs DATABASE_URL: the database in the data folder serves one process alone');
  if (!parsed.success || faults.length > 0) throw new ConfigError(faults);
  return configOf(parsed.data);
}

function configOf(env: Environment): Config {
  return {
    dataFolder: env.CAST_DATA_FOLDER,
    databaseUrl: env.DATABASE_URL ?? null,
    redisUrl: env.REDIS_URL ?? null,
    objectStore:
      env.S3_ENDPOINT === undefined
        ? null
        : { endpoint: env.S3_ENDPOINT, bucket: env.S3_BUCKET ?? '', region: env.S3_REGION, accessKey: env.S3_ACCESS_KEY ?? '', secretKey: env.S3_SECRET_KEY ?? '' },
    logLevel: env.LOG_LEVEL,
    http: { host: env.HTTP_HOST, port: env.HTTP_PORT, publicUrl: env.PUBLIC_URL ?? null },
    metricsToken: env.METRICS_TOKEN ?? null,
    work: { here: env.WORK === 'local', threads: env.WORK_THREADS, timeoutMs: env.JOB_TIMEOUT_S * 1000, memoryMb: env.JOB_MEMORY_MB },
    jobs: { leaseMs: env.JOB_LEASE_S * 1000, reconcileMs: env.RECONCILE_S * 1000, drainMs: env.DRAIN_S * 1000 },
    cacheBytes: env.CACHE_GB * 1e9,
    uploadMaxBytes: env.UPLOAD_MAX_MB * 1e6,
    uploadMaxTriangles: env.UPLOAD_MAX_TRIANGLES,
  };
}

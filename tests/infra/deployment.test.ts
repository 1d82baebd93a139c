import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse, parseAllDocuments } from 'yaml';
import { BASE } from '@cast-to-last/api/http/app';
import { metrics } from '@cast-to-last/api/routes/upkeep/metrics';
import { VARIABLES, readConfig } from '@cast-to-last/runtime/config';

const ROOT = new URL('../../', import.meta.url).pathname;
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

/** Variables of the environment of the containers of the house. */
type Env = Record<string, string>;

interface Composed {
  readonly image?: string;
  readonly build?: { readonly context: string; readonly dockerfile: string };
  readonly command?: readonly string[];
  readonly entrypoint?: readonly string[];
  readonly environment?: Env;
  readonly depends_on?: Record<string, unknown>;
  readonly volumes?: readonly string[];
}

const compose = parse(read('infra/compose.yaml'), { merge: true }) as { services: Record<string, Composed>; volumes: Record<string, null> };
const ours = Object.entries(compose.services).filter(([, { image }]) => image === 'cast-to-last');
/** As docker compose puts them in, each with a value of its own. */
const filled = (env: Env = {}): Env => Object.fromEntries(Object.entries(env).map(([name, value]) => [name, value.replaceAll(/\$\{(\w+)(?::[-?]([^}]*))?\}/g, (_all, variable: string, otherwise: string) => (variable === 'PUBLIC_URL' ? otherwise : 'filled'.repeat(6)))]));

describe('compose.yaml', () => {
  it('runs the service, workers and upkeep of one image with settings that are taken', () => {
    expect(ours.map(([name]) => name).sort()).toEqual(['api', 'cast-worker', 'upkeep']);
    for (const [name, { environment, build, command = [], entrypoint = [] }] of ours) {
      expect(Object.keys(environment ?? {}).filter((variable) => !(variable in VARIABLES)), name).toEqual([]);
      const config = readConfig(filled(environment));
      expect([config.databaseUrl, config.redisUrl, config.objectStore?.bucket], name).toEqual([expect.stringContaining('@database:'), expect.stringContaining('@queue:'), 'casts']);
      expect(existsSync(join(ROOT, 'infra', build?.context ?? '', build?.dockerfile ?? 'none')), name).toBe(true);
      for (const program of [...command, ...entrypoint].filter((word) => word.endsWith('.js'))) expect(existsSync(join(ROOT, program.replace('/dist/', '/src/').replace(/\.js$/, '.ts'))), program).toBe(true);
    }
    const api = readConfig(filled(compose.services.api.environment));
    expect([api.http, api.work.here]).toEqual([{ host: '0.0.0.0', port: 8080, publicUrl: 'http://localhost:8080' }, false]);
  });

  it('keeps what it must keep, evicts nothing, and has no password of its own', () => {
    const redis = compose.services.queue.command ?? [];
    expect([redis[redis.indexOf('--appendonly') + 1], redis[redis.indexOf('--maxmemory-policy') + 1]]).toEqual(['yes', 'noeviction']);
    const named = Object.values(compose.services).flatMap(({ volumes = [] }) => volumes.map((volume) => volume.split(':')[0])).filter((volume) => /^\w+$/.test(volume));
    expect([...new Set(named)].sort()).toEqual(Object.keys(compose.volumes).sort());
    for (const [name, { environment = {}, depends_on: needs = {} }] of Object.entries(compose.services)) {
      for (const [variable, value] of Object.entries(environment)) if (/PASSWORD|SECRET|KEY$|AUTH/.test(variable)) expect(value, `${name} ${variable}`).toMatch(/^\$\{\w+:\?/);
      for (const needed of Object.keys(needs)) expect(compose.services, name).toHaveProperty(needed);
    }
  });

  it('takes images of a fixed line', () => {
    for (const { image } of Object.values(compose.services)) expect(image).toMatch(/^cast-to-last$|:[\w.-]*\d/);
  });
});

describe('the manifests for Kubernetes', () => {
  interface Manifest {
    readonly kind: string;
    readonly metadata: { readonly name: string; readonly namespace?: string };
    // oxlint-disable-next-line typescript/no-explicit-any -- each kind has another form
    readonly spec?: any;
    readonly data?: Env;
  }
  const documents = readdirSync(join(ROOT, 'infra/kubernetes')).filter((name) => name.endsWith('.yaml')).flatMap((name) => parseAllDocuments(read(`infra/kubernetes/${name}`)));
  const manifests = documents.map((document) => document.toJS() as Manifest);
  const deployments = manifests.filter(({ kind }) => kind === 'Deployment');
  const secret = Object.fromEntries([...read('infra/kubernetes/README.md').matchAll(/--from-literal=([A-Z]\w+)=(\S+)/g)].map(([, name, value]) => [name, value]));

  it('are whole, each in the namespace', () => {
    expect(documents.flatMap(({ errors }) => errors)).toEqual([]);
    expect(manifests.map(({ kind }) => kind).sort()).toEqual(['ConfigMap', 'Deployment', 'Deployment', 'Namespace', 'PersistentVolumeClaim', 'ScaledObject', 'Service']);
    for (const { kind, metadata } of manifests) if (kind !== 'Namespace') expect(metadata.namespace, kind).toBe('cast-to-last');
  });

  it('give the programs settings that are taken', () => {
    const [settings] = manifests.filter(({ kind }) => kind === 'ConfigMap');
    for (const { metadata, spec } of deployments) {
      const [container] = spec.template.spec.containers;
      const env: Env = { ...settings.data, ...secret, ...Object.fromEntries(container.env.map(({ name, value, valueFrom }: { name: string; value?: unknown; valueFrom?: unknown }) => [name, valueFrom === undefined ? value : 'x'.repeat(64)])) };
      expect(Object.entries(env).filter(([name, value]) => !(name in VARIABLES) || typeof value !== 'string'), metadata.name).toEqual([]);
      const config = readConfig(env);
      expect(config.objectStore?.bucket).toBe('casts');
      // What the drain is given, the container is given, and a cast's memory fits.
      expect(spec.template.spec.terminationGracePeriodSeconds * 1000, metadata.name).toBeGreaterThanOrEqual(metadata.name === 'cast-worker' ? config.jobs.drainMs + 10_000 : 10_000);
      expect(container.volumeMounts.map(({ mountPath }: { mountPath: string }) => mountPath)).toContain(config.dataFolder);
      expect(spec.selector.matchLabels).toEqual(spec.template.metadata.labels);
    }
    const worker = deployments.find(({ metadata }) => metadata.name === 'cast-worker');
    expect(parseInt(worker?.spec.template.spec.containers[0].resources.limits.memory, 10)).toBeGreaterThan(1536 + 512);
  });

  it('let a scraper find the metrics, and give the API alone the token that it sends', () => {
    const tokenOf = (name: string) => deployments.find(({ metadata }) => metadata.name === name)?.spec.template.spec.containers[0].env.find((variable: { name: string }) => variable.name === 'METRICS_TOKEN');
    const made = /create secret generic (\S+) --from-literal=(\w+)="\$\(openssl rand -hex 32\)"/.exec(read('infra/kubernetes/README.md'));
    expect(tokenOf('api').valueFrom.secretKeyRef).toEqual({ name: made?.[1], key: made?.[2], optional: true });
    expect(tokenOf('cast-worker')).toBeUndefined();
    const api = deployments.find(({ metadata }) => metadata.name === 'api');
    expect(api?.spec.template.metadata.annotations['prometheus.io/path']).toBe(BASE + metrics.path);
  });

  it('scale the workers by what the jobs table holds', () => {
    const [{ spec }] = manifests.filter(({ kind }) => kind === 'ScaledObject');
    expect(deployments.map(({ metadata }) => metadata.name)).toContain(spec.scaleTargetRef.name);
    const [{ type, metadata }] = spec.triggers;
    expect([type, secret[metadata.connectionFromEnv]]).toEqual(['postgresql', expect.stringMatching(/^postgres:/)]);
    const migration = read('packages/runtime/migrations/0000_first-tables.sql');
    expect(migration).toMatch(/CREATE TABLE "jobs" \([^;]*"state" text/);
    expect(metadata.query).toMatch(/FROM jobs WHERE state IN \('waiting', 'running'\)/);
  });
});

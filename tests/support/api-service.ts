import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { keyOf } from '@cast-to-last/api/access/role-table';
import { ANSWERS } from '@cast-to-last/api/openapi/answers/answers';
import { ROUTES } from '@cast-to-last/api/routes/all-routes';
import type { OpenService } from '@cast-to-last/api/open-service';
import { openService } from '@cast-to-last/api/open-service';
import { readConfig } from '@cast-to-last/runtime/config';
import { madeOnce } from './made-once.js';
import { emptyDatabase } from './open-records.js';
import { QUIET } from './quiet-log.js';

export const PASSWORD = 'plaster of the third day';

export interface Answered {
  readonly status: number;
  readonly headers: Headers;
  // oxlint-disable-next-line typescript/no-explicit-any -- tests say what they expect
  readonly body: any;
}

/** Someone who speaks to the service as a browser or a station does. */
export interface Speaker {
  (method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<Answered>;
  /** With bytes as the body, and the answer as it came. */
  raw(method: string, path: string, body?: RequestInit['body'] | Uint8Array, headers?: Record<string, string>): Promise<Response>;
  readonly headers: Record<string, string>;
}

export function speaker(base: string, own: Record<string, string> = {}): Speaker {
  const raw: Speaker['raw'] = (method, path, body, headers = {}) =>
    fetch(`${base}/api/v1${path}`, { method, headers: { ...own, ...headers }, body: body as RequestInit['body'], ...(body instanceof ReadableStream && { duplex: 'half' }) });
  const say = async (method: string, path: string, body?: unknown, headers: Record<string, string> = {}): Promise<Answered> => {
    const response = await raw(method, path, body === undefined ? undefined : JSON.stringify(body), { ...(body !== undefined && { 'content-type': 'application/json' }), ...headers });
    const text = await response.text();
    const answered = { status: response.status, headers: response.headers, body: /json/.test(response.headers.get('content-type') ?? '') ? JSON.parse(text) : text };
    expectAsDescribed(method, path, answered);
    return answered;
  };
  return Object.assign(say, { raw, headers: own });
}

/** Every answer that a test gets is as the description of the API says. */
function expectAsDescribed(method: string, path: string, { status, body }: Answered): void {
  const asked = path.split('?')[0];
  const route = ROUTES.find((known) => known.method === method.toLowerCase() && new RegExp(`^${known.path.replaceAll('.', '\\.').replaceAll(/:\w+/g, '[^/]+')}$`).test(asked));
  if (route === undefined) return;
  // Of a service that is not ready the parts are told, and no problem.
  if (status >= 400 && asked !== '/ready') {
    expect(Object.keys(body), `${method} ${path}`).toEqual(expect.arrayContaining(['type', 'title', 'status', 'detail', 'code', 'remedy']));
    return;
  }
  const answer = ANSWERS[keyOf(route)];
  if (answer === undefined) return;
  const { error } = answer.safeParse(body);
  if (error !== undefined) throw new Error(`${method} ${path} answered other than is described: ${error.issues.map((issue) => `${issue.path.join('.')} ${issue.message}`).join('; ')}`);
}

/** The speaker of a session that an answer began. */
export const inSession = (base: string, { headers, body }: Answered): Speaker =>
  speaker(base, { cookie: (headers.get('set-cookie') ?? '').split(';')[0], 'x-csrf-token': body.csrf });

export interface Workshop {
  readonly service: OpenService;
  readonly nobody: Speaker;
  readonly assistant: Speaker;
  readonly maker: Speaker;
  readonly administrator: Speaker;
}

const ROLES = ['administrator', 'assistant', 'maker'] as const;
type Sessions = Readonly<Record<(typeof ROLES)[number], Record<string, string>>>;

/** The data folder of the nth workshop, with one account of each role, all signed in; and `sessions.json` with what their requests carry. */
const staffedFolder = (nth: number): Promise<string> =>
  madeOnce(`workshop-${nth}`, async (folder) => {
    const service = await openOn(join(folder, 'data'), {}, null);
    const nobody = speaker(service.url);
    const token = service.firstAccountUrl?.split('#')[1];
    const administrator = inSession(service.url, await nobody('POST', '/first-account', { token, name: 'first', displayName: 'First', password: PASSWORD }));
    const signedIn = async (role: string): Promise<Record<string, string>> => {
      await administrator('POST', '/people', { name: role, displayName: role, role, password: PASSWORD });
      return inSession(service.url, await nobody('POST', '/session', { name: role, password: PASSWORD })).headers;
    };
    const sessions: Sessions = { administrator: administrator.headers, assistant: await signedIn('assistant'), maker: await signedIn('maker') };
    await service.close();
    writeFileSync(join(folder, 'sessions.json'), JSON.stringify(sessions));
  });

async function openOn(dataFolder: string, env: Record<string, string>, samples: string | null): Promise<OpenService> {
  if (!existsSync(dataFolder)) cpSync(await emptyDatabase(), join(dataFolder, 'records'), { recursive: true });
  return openService(readConfig({ CAST_DATA_FOLDER: dataFolder, DRAIN_S: '0', ...env }), QUIET, samples);
}

/** What several files begin with, made once in a run. */
export interface Begun {
  readonly name: string;
  begin(workshop: Workshop): Promise<void>;
}

/** A staffed folder in which more was done. */
const begunFolder = (nth: number, { name, begin }: Begun): Promise<string> =>
  madeOnce(`workshop-${nth}-${name}`, async (folder) => {
    cpSync(await staffedFolder(nth), folder, { recursive: true });
    const workshop = await openWorkshop(folder, {}, null);
    await begin(workshop);
    await workshop.service.close();
  });

/** The service on such a folder, with those who are signed in. */
async function openWorkshop(folder: string, env: Record<string, string>, samples: string | null): Promise<Workshop> {
  const sessions = JSON.parse(readFileSync(join(folder, 'sessions.json'), 'utf8')) as Sessions;
  const service = await openOn(join(folder, 'data'), env, samples);
  const as = (role: keyof Sessions): Speaker => speaker(service.url, sessions[role]);
  return { service, nobody: speaker(service.url), administrator: as('administrator'), assistant: as('assistant'), maker: as('maker') };
}

/** How many workshops the test file under way has. */
const workshops = new Map<string, number>();

/**
 * A service in a temporary folder for all tests of a file, with one account of each role; `samples`: the folder of sample
 * orders that it offers; `begun`: what was done there before. People and sessions are the same in every file; two workshops of
 * one file have none in common.
 */
export function workshopService(env: Record<string, string> = {}, samples: string | null = null, begun: Begun | null = null): () => Workshop {
  let workshop: Workshop;
  const file = expect.getState().testPath ?? '';
  const nth = (workshops.get(file) ?? 0) + 1;
  workshops.set(file, nth);
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-api-'));
  beforeAll(async () => {
    cpSync(await (begun === null ? staffedFolder(nth) : begunFolder(nth, begun)), folder, { recursive: true });
    workshop = await openWorkshop(folder, env, samples);
  });
  afterAll(async () => {
    await workshop?.service.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  });
  return () => workshop;
}

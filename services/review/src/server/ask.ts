import { endedSession, session } from './session.js';
import { ServerProblem, problemOf } from './problem.js';

const BASE = '/api/v1';

export interface Answer<T> {
  readonly body: T;
  /** For If-Match of a change; null where the answer has none. */
  readonly etag: string | null;
}

export interface Asked {
  readonly body?: unknown;
  readonly bytes?: BodyInit;
  readonly headers?: Readonly<Record<string, string>>;
  readonly ifMatch?: string | null;
  readonly signal?: AbortSignal;
}

/** One request to the service. Throws ServerProblem; a session that ended opens the sign-in over the page, and the request waits for it. */
export async function ask<T>(method: string, path: string, asked: Asked = {}): Promise<Answer<T>> {
  const response = await send(method, path, asked);
  if (response.status === 401 && session.value != null && path !== '/session') {
    await endedSession();
    return ask<T>(method, path, asked);
  }
  const text = await response.text();
  const body: unknown = text === '' ? null : JSON.parse(text);
  if (!response.ok) throw asProblem(response.status, body as Record<string, unknown>);
  return { body: body as T, etag: response.headers.get('etag') };
}

/** The bytes of a file of the service. Throws ServerProblem as `ask` does. */
export async function askBytes(path: string, asked: Pick<Asked, 'signal'> = {}): Promise<{ readonly bytes: ArrayBuffer; readonly headers: Headers }> {
  const response = await send('GET', path, asked);
  if (response.status === 401 && session.value != null) {
    await endedSession();
    return askBytes(path, asked);
  }
  if (!response.ok) throw asProblem(response.status, JSON.parse((await response.text()) || '{}') as Record<string, unknown>);
  return { bytes: await response.arrayBuffer(), headers: response.headers };
}

async function send(method: string, path: string, { body, bytes, headers = {}, ifMatch, signal }: Asked): Promise<Response> {
  try {
    return await fetch(BASE + path, {
      method, signal,
      headers: {
        ...(body !== undefined && { 'content-type': 'application/json' }),
        ...(method !== 'GET' && session.value != null && { 'x-csrf-token': session.value.csrf }),
        ...(ifMatch != null && { 'if-match': ifMatch }),
        ...headers,
      },
      body: body === undefined ? bytes : JSON.stringify(body),
    });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw problemOf(error);
  }
}

function asProblem(status: number, { code, detail, remedy, faults, ...more }: Record<string, unknown>): ServerProblem {
  return new ServerProblem(status, String(code ?? 'fault'), String(detail ?? 'The service failed.'), String(remedy ?? ''), (faults as ServerProblem['faults']) ?? [], more);
}

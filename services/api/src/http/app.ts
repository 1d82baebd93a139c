import { randomUUID } from 'node:crypto';
import express from 'express';
import type { Express, NextFunction, Request, RequestHandler, Response } from 'express';
import { ROLE_TABLE, keyOf } from '../access/role-table.js';
import { mayUse } from '../access/roles.js';
import type { Access } from '../access/roles.js';
import { actorOf, refuseForgery, whoAsks } from '../access/who.js';
import type { Who } from '../access/who.js';
import { ROUTES } from '../routes/all-routes.js';
import type { Service } from '../service.js';
import { textFaults } from '@cast-to-last/runtime/records/text-faults';
import { servePages } from './pages.js';
import { problemOf } from './problem-of.js';
import { Problem, notFound, unusable } from './problem.js';
import type { Answer, Route } from './route.js';

export const BASE = '/api/v1';
const BODY_LIMIT = '2mb';
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/**
 * Nothing is loaded from elsewhere, nothing is framed, nothing in a page runs that did not come as a file of the service.
 * Compiled code (WebAssembly) may run: meshes are unpacked by it.
 */
const SECURITY_HEADERS = {
  'Content-Security-Policy': "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob: data:; worker-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
  'X-Content-Type-Options': 'nosniff', 'X-Frame-Options': 'DENY', 'Referrer-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin', 'Cross-Origin-Resource-Policy': 'same-origin',
};

/** The express app with every route behind the table of roles. Throws where a route is not in the table. */
export function createApp(service: Service): Express {
  const app = express();
  app.disable('x-powered-by').disable('etag').set('query parser', 'simple');
  if (service.runtime.config.http.publicUrl !== null) app.set('trust proxy', 'loopback, linklocal, uniquelocal');
  app.use(begin(service));
  for (const route of ROUTES) {
    const access = ROLE_TABLE[keyOf(route)];
    if (access === undefined) throw new Error(`${keyOf(route)} is not in the table of roles.`);
    app[route.method](BASE + route.path, letIn(service, access), ...(typeof route.body === 'object' ? [needJson, express.json({ limit: BODY_LIMIT })] : []), answer(service, route));
  }
  servePages(app);
  app.use(() => {
    throw notFound('address');
  });
  app.use(answerProblem(service));
  return app;
}

/** Names the request and writes one line when it is answered: no address, no name, nothing that was sent. */
function begin({ runtime, metrics, secure }: Service): RequestHandler {
  return (request, response, next) => {
    const requestId = randomUUID();
    const start = performance.now();
    response.locals.requestId = requestId;
    response.set({ ...SECURITY_HEADERS, 'X-Request-Id': requestId, 'Cache-Control': 'no-store', ...(secure && { 'Strict-Transport-Security': 'max-age=31536000' }) });
    response.on('close', () => {
      const pattern = typeof request.route?.path === 'string' ? request.route.path : 'none';
      const seconds = (performance.now() - start) / 1000;
      const who = (response.locals.who ?? { kind: 'nobody' }) as Who;
      metrics.answered(request.method, pattern, response.statusCode, seconds);
      runtime.log.debug({
        requestId, method: request.method, route: pattern, status: response.statusCode, durationMs: Math.round(seconds * 1000), by: who.kind, ...(who.kind !== 'nobody' && { actor: who.id }),
      }, 'answered');
    });
    next();
  };
}

function letIn({ runtime, secure }: Service, access: Access): RequestHandler {
  return async (request, response, next) => {
    // What is open to everyone answers also while the database is away.
    const who: Who = access === 'open' ? { kind: 'nobody' } : await whoAsks(runtime.records, request, secure);
    response.locals.who = who;
    if (!mayUse(who, access)) {
      if (who.kind === 'nobody') throw new Problem(401, 'not-signed-in', 'This is for those who are signed in.', 'Sign in.');
      throw new Problem(403, 'not-allowed', `This is not for ${who.kind === 'station' ? 'a scanning station' : `the role ${who.role}`}.`, 'Ask someone who may, or the administrator for the role.');
    }
    refuseForgery(who, request);
    next();
  };
}

/** A body that is not JSON is refused; whether there has to be one, the route's schema says. */
const needJson: RequestHandler = (request, _response, next) => {
  const none = request.headers['transfer-encoding'] === undefined && Number(request.headers['content-length'] ?? 0) === 0;
  if (!none && request.is('application/json') !== 'application/json') throw new Problem(415, 'not-json', 'The body has to be JSON.', 'Send it with the header content-type: application/json.');
  next();
};

function answer(service: Service, route: Route): RequestHandler {
  return async (request, response) => {
    const params = request.params as Record<string, string>;
    for (const [name, value] of Object.entries(params)) if (/(^i|I)d$/.test(name) && !UUID.test(value)) throw notFound('record');
    const who = response.locals.who as Who;
    const done = await route.handle({
      service, who, by: actorOf(who), params, request, response,
      query: checked(route.query, request.query),
      body: typeof route.body === 'object' ? checked(route.body, request.body) : undefined,
      ifMatch: () => versionOf(request),
    });
    if (done !== null) send(response, done);
  };
}

function checked(schema: Route['query'], value: unknown): unknown {
  if (schema === undefined) return {};
  const faults = textFaults(value);
  if (faults.length > 0) throw unusable(faults);
  const parsed = schema.safeParse(value ?? {});
  if (parsed.success) return parsed.data;
  throw unusable(parsed.error.issues.map(({ path, message }) => ({ path: path.join('.'), message })));
}

function versionOf(request: Request): number {
  const header = request.headers['if-match'];
  if (header === undefined) throw new Problem(428, 'no-if-match', 'The header If-Match is missing.', 'Send the ETag that came with what is to be changed.');
  const version = /^(?:W\/)?"(\d+)"$/.exec(header)?.[1];
  if (version === undefined) throw new Problem(412, 'changed-meanwhile', 'The header If-Match is not an ETag of this service.', 'Read it again and send the ETag that comes with it.');
  return Number(version);
}

function send(response: Response, { body, version, headers = {}, status = body === undefined ? 204 : 200 }: Answer): void {
  response.status(status).set(headers);
  if (version !== undefined) response.set('ETag', `"${version}"`);
  if (body === undefined) response.end();
  else response.json(body);
}

function answerProblem({ runtime }: Service) {
  return (error: unknown, request: Request, response: Response, _next: NextFunction): void => {
    const problem = problemOf(error) ?? fault(error);
    if (response.headersSent || response.destroyed) {
      response.destroy();
      return;
    }
    // What is still being sent is not waited for.
    if (!request.complete) response.set('Connection', 'close');
    const { status, code, message, remedy, more, headers } = problem;
    response.status(status).set(headers).type('application/problem+json')
      .send(JSON.stringify({ type: `urn:cast-to-last:problem:${code}`, title: code.replaceAll('-', ' '), status, detail: message, code, remedy, requestId: response.locals.requestId, ...more }));
  };

  function fault(error: unknown): Problem {
    runtime.log.error({ err: error }, 'a request ended by a fault');
    return new Problem(500, 'fault', 'The service failed at this.', 'Try again; if it stays so, give the administrator the request id.');
  }
}

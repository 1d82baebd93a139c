import type { Route } from '../http/route.js';
import type { Access } from './roles.js';

export const keyOf = ({ method, path }: Pick<Route, 'method' | 'path'>): string => `${method.toUpperCase()} ${path}`;

/** Who may use each route. The service does not start with a route that is not here. */
export const ROLE_TABLE: Readonly<Record<string, Access>> = {
  'GET /health': 'open',
  'GET /ready': 'open',
  'GET /metrics': 'open',
  'GET /openapi.json': 'open',
  'POST /first-account': 'open',
  'POST /session': 'open',
  'GET /session': 'assistant',
  'DELETE /session': 'assistant',

  'GET /people': 'administrator',
  'POST /people': 'administrator',
  'PATCH /people/:id': 'administrator',
  'POST /people/:id/password': 'assistant',
  'GET /tokens': 'administrator',
  'POST /tokens': 'administrator',
  'DELETE /tokens/:id': 'administrator',
  'GET /audit': 'administrator',

  'GET /customers': 'assistant',
  'POST /customers': 'assistant',
  'GET /customers/:id': 'assistant',
  'PATCH /customers/:id': 'assistant',
  'GET /customers/:id/history': 'assistant',
  'POST /customers/:id/erase': 'administrator',

  'GET /orders': 'assistant',
  'POST /orders': 'assistant',
  'GET /orders/:id': 'assistant',
  'PATCH /orders/:id': 'assistant',
  'POST /orders/:id/casts': 'assistant',
  'GET /arrivals': 'assistant',
  'GET /arrivals/counts': 'assistant',

  'GET /casts': 'assistant',
  'GET /casts/:id': 'assistant',
  'PATCH /casts/:id': 'assistant',
  'POST /casts/:id/rules': 'maker',
  'POST /casts/:id/photos': 'assistant',
  'GET /casts/:id/photos/:sha256': 'assistant',
  'POST /casts/:id/uploads': 'assistant',
  'POST /uploads': 'station',
  'GET /uploads/:id': 'station',
  'PATCH /uploads/:id': 'station',
  'DELETE /uploads/:id': 'station',
  'POST /orders/:id/uploads': 'assistant',
  'POST /uploads/:id/side': 'station',
  'POST /uploads/:id/finish': 'station',

  'POST /scans/:id/again': 'assistant',

  'GET /casts/:id/revisions': 'assistant',
  'POST /casts/:id/revisions': 'maker',
  'GET /revisions/:id': 'assistant',
  'GET /revisions/:id/files/:name': 'assistant',
  'GET /revisions/:id/pictures/:view': 'assistant',
  // An assistant asks for a new cast where the check does; all else is the maker's.
  'POST /revisions/:id/approval': 'assistant',
  'GET /casts/:id/approvals': 'assistant',

  'GET /orders/:id/archive': 'maker',
  'GET /customers/:id/archive': 'administrator',
  'POST /archives': 'maker',

  'POST /comparisons': 'assistant',
  'GET /comparisons/:id': 'assistant',
  'GET /comparisons/:id/files/:name': 'assistant',

  'GET /scanners': 'station',
  'POST /scanners': 'maker',
  'GET /scanners/:id': 'assistant',
  'PATCH /scanners/:id': 'maker',
  'POST /scanners/:id/checks': 'assistant',

  'GET /jobs': 'assistant',
  'GET /jobs/:id': 'assistant',
  'POST /jobs/:id/cancel': 'maker',
  'POST /jobs/:id/retry': 'maker',
  'GET /events': 'assistant',

  'GET /rules': 'assistant',
  'GET /rules/schema': 'assistant',
  'GET /rules/:id': 'assistant',
  'POST /rules': 'maker',
  'GET /rules/:id/diff/:otherId': 'assistant',
  'POST /rules/check': 'assistant',
  'POST /rules/trial': 'maker',

  'GET /batches': 'assistant',
  'POST /batches': 'maker',
  'POST /batches/reach': 'assistant',
  'GET /batches/:id': 'assistant',
  'GET /batches/:id/items': 'assistant',
  'POST /batches/:id/pause': 'maker',
  'POST /batches/:id/resume': 'maker',
  'POST /batches/:id/cancel': 'maker',
  'POST /batches/:id/retry': 'maker',
  'GET /batches/:id/within': 'assistant',
  'POST /batches/:id/accept': 'maker',
  'POST /batches/:id/decline': 'maker',
  'POST /batches/:id/reopen': 'maker',
};

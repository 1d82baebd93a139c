import { and, eq, gt, isNull, or } from 'drizzle-orm';
import type { Request } from 'express';
import type { Actor } from '@cast-to-last/runtime/records/changes/entry';
import type { Records } from '@cast-to-last/runtime/records/records';
import { tokens } from '@cast-to-last/runtime/records/schema';
import { Problem } from '../http/problem.js';
import { digestOf } from './secrets.js';
import { sessionOf } from './sessions.js';
import type { Session } from './sessions.js';
import { PROGRAM } from '@cast-to-last/runtime/records/changes/entry';

/** Who asks. */
export type Who =
  | { readonly kind: 'nobody' }
  | { readonly kind: 'station'; readonly id: string }
  | { readonly kind: 'person'; readonly id: string; readonly role: Session['person']['role']; readonly session: Session };

export const actorOf = (who: Who): Actor => (who.kind === 'nobody' ? PROGRAM : { kind: who.kind, id: who.id });

/** By a station's token where there is one, else by the cookie. Throws Problem 401 for a token that is not taken. */
export async function whoAsks(records: Records, request: Request, secure: boolean): Promise<Who> {
  const bearer = /^Bearer (\S+)$/i.exec(request.headers.authorization ?? '')?.[1];
  if (bearer !== undefined) return stationOf(records, bearer);
  const session = await sessionOf(records, request, secure);
  return session === null ? { kind: 'nobody' } : { kind: 'person', id: session.person.id, role: session.person.role, session };
}

async function stationOf({ db }: Records, secret: string): Promise<Who> {
  const now = new Date().toISOString();
  const [token] = await db.select({ id: tokens.id }).from(tokens)
    .where(and(eq(tokens.sha256, digestOf(secret)), eq(tokens.scope, 'upload'), isNull(tokens.revokedAt), or(isNull(tokens.expiresAt), gt(tokens.expiresAt, now))));
  if (token === undefined) throw new Problem(401, 'bad-token', 'This token is not taken.', 'Ask the administrator for a new one.', { headers: { 'WWW-Authenticate': 'Bearer' } });
  return { kind: 'station', id: token.id };
}

/** Throws Problem 403 where a request that changes something may have been sent by another site. */
export function refuseForgery(who: Who, request: Request): void {
  if (['GET', 'HEAD', 'OPTIONS'].includes(request.method) || who.kind === 'station') return;
  const site = request.headers['sec-fetch-site'];
  const from = request.headers.origin;
  const foreign = (site !== undefined && site !== 'same-origin' && site !== 'none') || (from !== undefined && (!URL.canParse(from) || new URL(from).host !== request.headers.host));
  if (foreign) throw new Problem(403, 'other-site', 'This was sent by a page of another site.', 'Use the page of the service itself; behind a proxy, have it hand on the Host header.');
  if (who.kind === 'person' && request.headers['x-csrf-token'] !== who.session.csrf) {
    throw new Problem(403, 'no-csrf-token', 'The header x-csrf-token is missing or not the one of this session.', 'Send what GET /session gives as `csrf`.');
  }
}

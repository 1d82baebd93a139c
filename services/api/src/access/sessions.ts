import { randomUUID } from 'node:crypto';
import { and, eq, gt, lt } from 'drizzle-orm';
import type { Request, Response } from 'express';
import type { Tx } from '@cast-to-last/runtime/records/database';
import type { Records } from '@cast-to-last/runtime/records/records';
import { people } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { sessions } from '@cast-to-last/runtime/records/working-tables';
import { digestOf, newSecret } from './secrets.js';

/** A session ends after so long without a request, and after so long in any case. */
const IDLE_MS = 12 * 3_600_000;
const LONGEST_MS = 7 * 24 * 3_600_000;
/** How often it is written that a session is in use. */
const SEEN_EVERY_MS = 60_000;

export interface Session {
  readonly id: string;
  readonly csrf: string;
  readonly person: RowOf<'people'>;
}

/** The prefix makes browsers refuse it but from https, for this host and all of it. */
const cookieName = (secure: boolean): string => (secure ? '__Host-session' : 'session');

const COOKIE = { httpOnly: true, sameSite: 'strict', path: '/' } as const;

/** Begins a session and sets its cookie; sessions that ran out are taken away on the way. */
export async function beginSession(tx: Tx, response: Response, personId: string, secure: boolean): Promise<{ csrf: string }> {
  const [secret, csrf, now] = [newSecret(), newSecret(), Date.now()];
  await tx.delete(sessions).where(lt(sessions.expiresAt, new Date(now).toISOString()));
  await tx.insert(sessions).values({
    id: randomUUID(), sha256: digestOf(secret), personId, csrf,
    createdAt: new Date(now).toISOString(), seenAt: new Date(now).toISOString(), expiresAt: new Date(now + LONGEST_MS).toISOString(),
  });
  response.cookie(cookieName(secure), secret, { ...COOKIE, secure, maxAge: LONGEST_MS });
  return { csrf };
}

/** The session of a request's cookie; null where there is none that holds. */
export async function sessionOf({ db }: Records, request: Request, secure: boolean): Promise<Session | null> {
  const secret = cookieOf(request, cookieName(secure));
  if (secret === null) return null;
  const now = Date.now();
  const [row] = await db
    .select({ session: sessions, person: people }).from(sessions).innerJoin(people, eq(people.id, sessions.personId))
    .where(and(eq(sessions.sha256, digestOf(secret)), gt(sessions.expiresAt, new Date(now).toISOString()), gt(sessions.seenAt, new Date(now - IDLE_MS).toISOString()), eq(people.state, 'active')));
  if (row === undefined) return null;
  const { session, person } = row;
  // Also where the clock was set back.
  if (Math.abs(now - Date.parse(session.seenAt)) > SEEN_EVERY_MS) await db.update(sessions).set({ seenAt: new Date(now).toISOString() }).where(eq(sessions.id, session.id));
  return { id: session.id, csrf: session.csrf, person };
}

export async function endSession({ db }: Records, response: Response, sessionId: string, secure: boolean): Promise<void> {
  await db.delete(sessions).where(eq(sessions.id, sessionId));
  response.clearCookie(cookieName(secure), { ...COOKIE, secure });
}

/** Where a password or the state of a person changed: every session ends, but for the one that it was changed in. */
export async function endSessionsOf(tx: Tx, personId: string, except: string | null = null): Promise<void> {
  const rows = await tx.select({ id: sessions.id }).from(sessions).where(eq(sessions.personId, personId));
  for (const { id } of rows) if (id !== except) await tx.delete(sessions).where(eq(sessions.id, id));
}

function cookieOf(request: Request, name: string): string | null {
  for (const part of (request.headers.cookie ?? '').split(';')) {
    const at = part.indexOf('=');
    if (at > 0 && part.slice(0, at).trim() === name) return part.slice(at + 1).trim();
  }
  return null;
}

import { and, eq } from 'drizzle-orm';
import { z } from 'zod';
import { people } from '@cast-to-last/runtime/records/schema';
import { isPassword } from '../../access/passwords.js';
import { beginSession, endSession } from '../../access/sessions.js';
import { countTry, forgetTries } from '../../access/throttle.js';
import { Problem } from '../../http/problem.js';
import { route } from '../../http/route.js';
import type { Call } from '../../http/route.js';
import { shownPerson } from './shown-person.js';

export const signIn = route({
  method: 'post', path: '/session', summary: 'Signs in.', body: z.strictObject({ name: z.string().min(1).max(80), password: z.string().min(1).max(200) }),
  handle: async ({ service: { runtime: { records }, secure }, body: { name, password }, request, response }) => {
    await countTry(records, name, request.ip ?? '');
    const [person] = await records.db.select().from(people).where(and(eq(people.name, name), eq(people.state, 'active')));
    if (!(await isPassword(password, person?.passwordHash ?? null)) || person === undefined) {
      throw new Problem(401, 'wrong-password', 'There is no active account with this name and password.', 'Check both; the administrator can set a new password.');
    }
    await forgetTries(records, name);
    const { csrf } = await records.transaction((tx) => beginSession(tx, response, person.id, secure));
    return { body: { person: shownPerson(person), csrf } };
  },
});

/** The session of one who is signed in. */
export function sessionIn({ who }: Pick<Call, 'who'>) {
  if (who.kind !== 'person') throw new Problem(401, 'not-signed-in', 'This is for those who are signed in.', 'Sign in.');
  return who.session;
}

export const readSession = route({
  method: 'get', path: '/session', summary: 'Who is signed in.',
  handle: async (call) => {
    const { person, csrf } = sessionIn(call);
    return { body: { person: shownPerson(person), csrf } };
  },
});

export const signOut = route({
  method: 'delete', path: '/session', summary: 'Signs out.',
  handle: async (call) => {
    await endSession(call.service.runtime.records, call.response, sessionIn(call).id, call.service.secure);
    return {};
  },
});

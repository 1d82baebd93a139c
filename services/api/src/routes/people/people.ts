import { randomUUID } from 'node:crypto';
import { and, eq } from 'drizzle-orm';
import { z } from 'zod';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { people } from '@cast-to-last/runtime/records/schema';
import { hashPassword, isPassword, passwordSchema } from '../../access/passwords.js';
import { ROLES } from '../../access/roles.js';
import { endSessionsOf } from '../../access/sessions.js';
import { countTry } from '../../access/throttle.js';
import { expectCurrent } from '../../http/expect-current.js';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { Problem, conflict } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { personNames } from './first-account.js';
import { sessionIn } from './session.js';
import { shownPerson } from './shown-person.js';

const query = z.strictObject(pageQuery);
const role = z.enum(ROLES);

export const listPeople = route({
  method: 'get', path: '/people', summary: 'Everyone who has an account.', query,
  handle: async ({ service: { runtime }, query: page }) => {
    const { where, orderBy } = newestFirst(people, page);
    return { body: pageOf(await runtime.records.db.select().from(people).where(where).orderBy(...orderBy).limit(page.limit + 1), page, shownPerson) };
  },
});

export const addPerson = route({
  method: 'post', path: '/people', summary: 'Makes an account.', status: 201, body: z.strictObject({ ...personNames, role, password: passwordSchema }),
  handle: async ({ service: { runtime }, by, body: { password, ...given } }) => {
    const id = randomUUID();
    const passwordHash = await hashPassword(password);
    const person = await runtime.records.change(by, 'person.added', { table: 'people', id }, (draft) => draft.put('people', { id, ...given, passwordHash, state: 'active' }));
    return { status: 201, body: shownPerson(person), version: person.version };
  },
});

export const changePerson = route({
  method: 'patch', path: '/people/:id', summary: 'Changes role, state, shown name or password; ends the sessions of the person where any but the shown name changed.', conditional: true,
  body: z.strictObject({ displayName: personNames.displayName, role, state: z.enum(['active', 'disabled']), password: passwordSchema }).partial(),
  handle: async ({ service: { runtime }, by, params: { id }, body: { password, ...given }, ifMatch }) => {
    const version = ifMatch();
    const hashed = password === undefined ? {} : { passwordHash: await hashPassword(password) };
    const person = await runtime.records.change(by, 'person.changed', { table: 'people', id }, async (draft) => {
      const before = await expectCurrent(draft, 'people', id, version, shownPerson);
      const after = await draft.put('people', { ...before, ...given, ...hashed });
      await refuseNoAdministrator(draft);
      if (password !== undefined || after.role !== before.role || after.state !== before.state) await endSessionsOf(draft.tx, id);
      return after;
    });
    return { body: shownPerson(person), version: person.version };
  },
});

/** Nobody could make accounts any more. */
async function refuseNoAdministrator({ tx }: ChangeDraft): Promise<void> {
  const left = await tx.select({ id: people.id }).from(people).where(and(eq(people.role, 'administrator'), eq(people.state, 'active'))).limit(1);
  if (left.length === 0) throw conflict('last-administrator', 'This is the only administrator.', 'Make another one first.');
}

export const changePassword = route({
  method: 'post', path: '/people/:id/password', summary: 'Changes the password of the one who is signed in; ends the other sessions.',
  body: z.strictObject({ password: z.string().min(1).max(200), newPassword: passwordSchema }),
  handle: async (call) => {
    const { service: { runtime: { records } }, by, params: { id }, body: { password, newPassword }, request } = call;
    const session = sessionIn(call);
    if (session.person.id !== id) throw new Problem(403, 'not-allowed', 'Only the own password is changed here.', 'The administrator can set the password of others.');
    await countTry(records, `password of ${id}`, request.ip ?? '');
    if (!(await isPassword(password, session.person.passwordHash))) throw new Problem(403, 'wrong-password', 'The present password is another one.', 'Check it.');
    const passwordHash = await hashPassword(newPassword);
    await records.change(by, 'person.password-changed', { table: 'people', id }, async (draft) => {
      await draft.put('people', { ...(await draft.expect('people', id)), passwordHash });
      await endSessionsOf(draft.tx, id, session.id);
    });
    return {};
  },
});

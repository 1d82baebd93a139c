import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import { takeFirstAccount } from '../../access/first-account.js';
import { hashPassword, passwordSchema } from '../../access/passwords.js';
import { beginSession } from '../../access/sessions.js';
import { countTry } from '../../access/throttle.js';
import { Problem } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownPerson } from './shown-person.js';

export const personNames = { name: z.string().trim().min(1).max(80), displayName: z.string().trim().min(1).max(120) };

export const firstAccount = route({
  method: 'post', path: '/first-account', summary: 'Makes the first account by the link that the service prints when it starts; it may do everything.', status: 201,
  body: z.strictObject({ token: z.string().min(1).max(200), ...personNames, password: passwordSchema }),
  handle: async ({ service: { runtime: { records }, secure }, body: { token, name, displayName, password }, request, response }) => {
    await countTry(records, 'first account', request.ip ?? '');
    const passwordHash = await hashPassword(password);
    const id = randomUUID();
    const made = await records.change({ kind: 'person', id }, 'first-account.made', { table: 'people', id }, async (draft) => {
      if (!(await takeFirstAccount(draft, token))) return null;
      const person = await draft.put('people', { id, name, displayName, role: 'administrator', passwordHash, state: 'active' });
      return { person: shownPerson(person), ...(await beginSession(draft.tx, response, id, secure)) };
    });
    if (made === null) throw new Problem(403, 'link-does-not-hold', 'This link does not hold: it was used, a day old, or of an earlier start.', 'Start the service again and use the link that it prints.');
    return { status: 201, body: made };
  },
});

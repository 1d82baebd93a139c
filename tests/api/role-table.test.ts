import { describe, expect, it } from 'vitest';
import { ROLE_TABLE, keyOf } from '@cast-to-last/api/access/role-table';
import { BASE, createApp } from '@cast-to-last/api/http/app';
import { ROUTES } from '@cast-to-last/api/routes/all-routes';
import type { Service } from '@cast-to-last/api/service';
import { speaker, workshopService } from '../support/api-service.js';

const workshop = workshopService();
const NONE = '00000000-0000-0000-0000-000000000000';

/** What express itself has, whatever the list says. */
function routesOfExpress(): string[] {
  const { runtime } = workshop().service;
  const app = createApp({ runtime, secure: false } as Service);
  return app.router.stack.flatMap((layer) => {
    const route = layer.route as unknown as { path: string | RegExp; methods: Record<string, boolean> } | undefined;
    // The pages stand at a pattern, outside the API.
    if (typeof route?.path !== 'string' || !route.path.startsWith(BASE)) return [];
    return Object.keys(route.methods).map((method) => `${method.toUpperCase()} ${String(route.path).slice(BASE.length)}`);
  });
}

describe('the table of roles', () => {
  it('has every route of express, and no other', () => {
    const routes = routesOfExpress();
    expect(routes.length).toBeGreaterThan(10);
    expect([...routes].sort()).toEqual(Object.keys(ROLE_TABLE).sort());
  });

  it('is obeyed by every route, for each who may ask', async () => {
    const { service, nobody, assistant, maker, administrator } = workshop();
    const { token } = (await administrator('POST', '/tokens', { name: 'station' })).body;
    const station = speaker(service.url, { authorization: `Bearer ${token}` });
    const rank = ['open', 'station', 'assistant', 'maker', 'administrator'];
    const wrong: string[] = [];
    for (const route of ROUTES) {
      const needed = rank.indexOf(ROLE_TABLE[keyOf(route)]);
      // What ends the session or answers for ever, and what is refused to all but the machine itself, is asked elsewhere.
      if (['DELETE /session', 'GET /events'].includes(keyOf(route))) continue;
      const path = route.path.replace(/:(\w+)/g, (_all, name) => (name === 'sha256' ? '0'.repeat(64) : name === 'name' ? 'none' : NONE));
      for (const [asker, say, has] of [['nobody', nobody, 0], ['station', station, 1], ['assistant', assistant, 2], ['maker', maker, 3], ['administrator', administrator, 4]] as const) {
        const { status, body } = await say(route.method.toUpperCase(), path);
        const letIn = !((status === 401 && body.code === 'not-signed-in') || (status === 403 && body.code === 'not-allowed' && /This is not for/.test(body.detail)));
        const allowed = needed <= has && !(asker === 'station' && needed > 1);
        if (letIn !== allowed || status >= 500) wrong.push(`${asker} ${keyOf(route)} ${status}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

import { randomUUID } from 'node:crypto';
import { and, eq } from 'drizzle-orm';
import { z } from 'zod';
import { tokens } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';
import { instantText } from '@cast-to-last/runtime/records/instant-text';
import { digestOf, newSecret } from '../../access/secrets.js';
import { newestFirst, pageOf, pageQuery } from '../../http/page.js';
import { route } from '../../http/route.js';

const shown = ({ id, version, name, scope, createdAt, expiresAt, revokedAt }: RowOf<'tokens'>) => ({ id, version, name, scope, createdAt, expiresAt, revokedAt });

export const listTokens = route({
  method: 'get', path: '/tokens', summary: 'Tokens of scanning stations.', query: z.strictObject(pageQuery),
  handle: async ({ service: { runtime }, query: page }) => {
    const { where, orderBy } = newestFirst(tokens, page);
    const rows = await runtime.records.db.select().from(tokens).where(and(eq(tokens.scope, 'upload'), where)).orderBy(...orderBy).limit(page.limit + 1);
    return { body: pageOf(rows, page, shown) };
  },
});

export const addToken = route({
  method: 'post', path: '/tokens', summary: 'Makes a token by which a scanning station uploads and does nothing else; its value is shown this once.', status: 201,
  body: z.strictObject({ name: z.string().trim().min(1).max(80), expiresAt: instantText.optional() }),
  handle: async ({ service: { runtime }, by, body: { name, expiresAt } }) => {
    const [id, secret] = [randomUUID(), newSecret()];
    const token = await runtime.records.change(by, 'token.added', { table: 'tokens', id }, (draft) =>
      draft.put('tokens', { id, name, scope: 'upload', sha256: digestOf(secret), expiresAt: expiresAt ?? null }));
    return { status: 201, body: { ...shown(token), token: secret } };
  },
});

export const revokeToken = route({
  method: 'delete', path: '/tokens/:id', summary: 'Takes a token back.',
  handle: async ({ service: { runtime }, by, params: { id } }) => {
    await runtime.records.change(by, 'token.revoked', { table: 'tokens', id }, async (draft) => {
      const token = await draft.expect('tokens', id);
      await draft.put('tokens', { ...token, revokedAt: token.revokedAt ?? draft.at });
    });
    return {};
  },
});

import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { drizzle as overServer } from 'drizzle-orm/node-postgres';
import { migrate as migrateServer } from 'drizzle-orm/node-postgres/migrator';
import { drizzle as overFolder } from 'drizzle-orm/pglite';
import { migrate as migrateFolder } from 'drizzle-orm/pglite/migrator';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { digestOf } from '@cast-to-last/api/access/secrets';
import { openService } from '@cast-to-last/api/open-service';
import { readConfig } from '@cast-to-last/runtime/config';
import { PUT_TABLES, audit } from '@cast-to-last/runtime/records/schema';
import { ended } from '../support/api-cast.js';
import { inSession, speaker } from '../support/api-service.js';
import type { Speaker } from '../support/api-service.js';
import type { PostgresServer } from '../support/postgres-server.js';
import { startPostgres } from '../support/postgres-server.js';
import { QUIET } from '../support/quiet-log.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { PASSWORD, SCAN, TOKEN, UPLOAD, fillFirstTables, firstMigration, rowsThen, writeFiles } from './first-version/write-first-version.js';

let postgres: PostgresServer;
beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(() => postgres?.stop());

const secret = randomBytes(32).toString('base64url');

/** The first version's database in a folder, with a row in every table. */
async function inFolder(dataFolder: string): Promise<Record<string, string>> {
  const path = join(dataFolder, 'records/pg');
  mkdirSync(path, { recursive: true });
  const client = await PGlite.create(path);
  await migrateFolder(overFolder(client), { migrationsFolder: firstMigration(temporaryFolder()) });
  await fillFirstTables((text, values) => client.query(text, values), { secret, digest: digestOf });
  await client.close();
  return {};
}

/** The same on a server. */
async function onServer(): Promise<Record<string, string>> {
  const url = await postgres.newDatabase();
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await migrateServer(overServer(client), { migrationsFolder: firstMigration(temporaryFolder()) });
  await fillFirstTables((text, values) => client.query(text, values), { secret, digest: digestOf });
  await client.end();
  return { DATABASE_URL: url };
}

/** Nothing but the change files and what they name. */
const filesAlone = async (): Promise<Record<string, string>> => ({});

async function open(make: (dataFolder: string) => Promise<Record<string, string>>) {
  const dataFolder = temporaryFolder();
  writeFiles(dataFolder);
  const service = await openService(readConfig({ CAST_DATA_FOLDER: dataFolder, DRAIN_S: '0', ...(await make(dataFolder)) }), QUIET);
  onTestFinished(() => service.close());
  return service;
}

/** What waited goes on being made from the start. */
const atRest = (table: string, row: Readonly<Record<string, unknown>>): boolean => !(table === 'revisions' && row.state === 'waiting') && !(table === 'casts' && row.state === 'in-work');

describe.each([['a database in a folder', inFolder], ['a database on a server', onServer], ['change files alone', filesAlone]] as const)('records of the first version: %s', (name, make) => {
  it('are all there, and go on', async () => {
    const service = await open(make);
    const { records } = service.runtime;
    const then = rowsThen();
    expect([...then.keys()].sort()).toEqual(Object.keys(PUT_TABLES).sort());
    for (const [key, table] of Object.entries(PUT_TABLES)) {
      const now = new Map((await records.db.select().from(table as (typeof PUT_TABLES)['people'])).map((row) => [row.id, row]));
      for (const row of then.get(key)?.values() ?? []) if (atRest(key, row)) expect(now.get(row.id), key).toMatchObject(row);
    }
    expect((await records.verify()).brokenAt).toBeNull();
    await expect(records.db.delete(audit)).rejects.toThrow();

    const nobody = speaker(service.url);
    const maker = inSession(service.url, await nobody('POST', '/session', { name: 'maker', password: PASSWORD }));
    const [waiting] = [...(then.get('revisions')?.values() ?? [])].filter(({ state }) => state === 'waiting');
    await lists(maker);
    const station = speaker(service.url, { authorization: `Bearer ${TOKEN}` });
    expect((await station('GET', '/scanners')).status).toBe(200);
    if (name === 'change files alone') expect((await maker('GET', `/revisions/${waiting.id}`)).body.state).toMatch(/waiting|done/);
    else {
      expect(await ended(maker, waiting.id)).toMatchObject({ state: 'done' });
      await goesOn(speaker(service.url, { cookie: `session=${secret}`, 'x-csrf-token': 'csrf-of-then' }));
    }
    expect((await records.verify()).brokenAt).toBeNull();
  });
});

/** Every list shows what there is. */
async function lists(maker: Speaker): Promise<void> {
  for (const path of ['/customers', '/orders', '/casts', '/arrivals', '/rules', '/scanners', '/batches', '/people', '/tokens', '/audit', '/jobs']) {
    const { status, body } = await maker('GET', path);
    expect([path, status, body.items.length > 0]).toEqual([path, 200, true]);
  }
}

/** The session of then holds, and the upload that was begun then becomes a scan. */
async function goesOn(ofThen: Speaker): Promise<void> {
  expect((await ofThen('GET', `/uploads/${UPLOAD}`)).body).toMatchObject({ received: 0 });
  const bytes = readFileSync(SCAN);
  expect((await ofThen.raw('PATCH', `/uploads/${UPLOAD}`, bytes, { 'upload-offset': '0' })).status).toBe(200);
  const { body } = await ofThen('POST', `/uploads/${UPLOAD}/finish`);
  expect(await ended(ofThen, body.revisionId)).toMatchObject({ state: 'done' });
}

#!/usr/bin/env node
import { parseArgs } from 'node:util';
import { DamagedArtifact } from '@cast-to-last/runtime/artifacts/refusals';
import { openStore } from '@cast-to-last/runtime/artifacts/open-store';
import { backUp } from '@cast-to-last/runtime/backup/back-up';
import { CannotRestore, restore } from '@cast-to-last/runtime/backup/restore';
import { ConfigError, readConfig } from '@cast-to-last/runtime/config';
import type { Config } from '@cast-to-last/runtime/config';
import { openLog } from '@cast-to-last/runtime/log';
import { DamagedChangeFile } from '@cast-to-last/runtime/records/changes/change-files';
import { HistoriesDiffer } from '@cast-to-last/runtime/records/changes/catch-up';
import { clearAway } from '@cast-to-last/runtime/records/clear-away';
import { FolderInUse } from '@cast-to-last/runtime/records/folder-lock';
import { openRecords } from '@cast-to-last/runtime/records/records';
import type { Records } from '@cast-to-last/runtime/records/records';
import { ClockNotBelieved, runRetention } from '@cast-to-last/runtime/records/run-retention';
import { hasAccounts, offerFirstAccount } from '../access/first-account.js';

/** What is done beside the running service, from a console or by a timer of the machine. */

const USAGE = `npm run upkeep -- COMMAND, with the settings of the service in the environment

  backup FOLDER     brings FOLDER to the present state; the service may run meanwhile
  restore FOLDER    puts the backup in FOLDER into an empty data folder, database and bucket
  retention         erases customers past their retention date that have no open order
  clear             clears away files that nothing refers to, and uploads that ran out
  verify            reads the whole audit log and says whether it is what was written
  first-account     prints a link by which the first account is made; it holds once, for a day

Where the database is in the data folder, only backup can run beside the service; stop the service for the others.
`;

/** A call that cannot be carried out; the text says why. */
class WrongCall extends Error {}

const say = (text: string): void => void process.stdout.write(`${text}\n`);

// A reader that has enough closes the pipe; what is printed after that is dropped, and the work goes on.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

try {
  await run();
} catch (error) {
  const expected = [WrongCall, ConfigError, FolderInUse, HistoriesDiffer, CannotRestore, ClockNotBelieved, DamagedArtifact, DamagedChangeFile].some((kind) => error instanceof kind);
  process.stderr.write(`${expected ? (error as Error).message : ((error as Error).stack ?? String(error))}\n`);
  process.exitCode = expected ? 2 : 1;
}

async function run(): Promise<void> {
  const { values: { help }, positionals: [command, folder, ...more] } = calledWith();
  if (help === true) return say(USAGE);
  const needsFolder = command === 'backup' || command === 'restore';
  if (command === undefined || more.length > 0 || needsFolder !== (folder !== undefined)) throw new WrongCall(USAGE);
  const config = readConfig();
  const store = await openStore(config);
  switch (command) {
    case 'backup': {
      const { changes, artifacts, copied, removed } = await backUp(store, folder ?? '');
      return say(`${folder} holds ${changes.last} changes and ${artifacts.count} files of ${Math.round(artifacts.bytes / 1e6)} MB; ${copied} were copied, ${removed} that were erased taken out.`);
    }
    case 'restore': {
      const note = await restore(store, folder ?? '');
      return withRecords(config, async (records) => {
        const { entries, brokenAt } = await records.verify();
        if (brokenAt !== null || entries !== note.changes.last) throw new CannotRestore(`The database holds ${entries} changes and not the ${note.changes.last} of the backup. Name an empty one.`);
        say(`The backup of ${note.at} is in place: ${entries} changes, ${note.artifacts.count} files. Start the service; what was being made then is made now.`);
      });
    }
    case 'retention':
      return withRecords(config, async (records) => {
        const { erased, left } = await runRetention({ records, ...store }, new Date().toISOString().slice(0, 10));
        say(`${erased.length} customers were erased${list(erased)}. ${left.length} are past their date and have an open order${list(left)}.`);
      });
    case 'clear':
      return withRecords(config, async (records) => say(`${await clearAway({ records, artifacts: store.artifacts })} files were cleared away.`));
    case 'verify':
      return withRecords(config, async (records) => {
        const { entries, brokenAt } = await records.verify();
        say(brokenAt === null ? `All ${entries} changes are as they were written.` : `Change ${brokenAt} is not what was written.`);
        if (brokenAt !== null) process.exitCode = 1;
      });
    case 'first-account':
      return withRecords(config, async (records) => {
        const { publicUrl, host, port } = config.http;
        if (publicUrl === null && port === 0 && !(await hasAccounts(records.db))) throw new WrongCall('HTTP_PORT is 0, a free port that is known only when the service starts: set it to the port that the service will have, or PUBLIC_URL to its address.');
        const secret = await offerFirstAccount(records);
        if (secret === null) throw new WrongCall('There are accounts already; an administrator makes further ones.');
        say(`${(publicUrl ?? `http://${host}:${port}`).replace(/\/$/, '')}/welcome#${secret}`);
      });
    default:
      throw new WrongCall(USAGE);
  }
}

/** What the call names. Throws WrongCall where it names an option that there is not. */
function calledWith() {
  try {
    return parseArgs({ options: { help: { type: 'boolean', short: 'h' } }, allowPositionals: true });
  } catch (error) {
    throw new WrongCall(`${(error as Error).message}\n\n${USAGE}`);
  }
}

async function withRecords(config: Config, use: (records: Records) => Promise<void>): Promise<void> {
  const { blobs } = await openStore(config);
  const records = await openRecords({ config, log: openLog(config, 'upkeep'), blobs });
  try {
    await use(records);
  } finally {
    await records.close();
  }
}

function list(numbers: readonly string[]): string {
  return numbers.length === 0 ? '' : `: ${numbers.join(', ')}`;
}

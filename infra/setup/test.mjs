/** npm test: sets up, then builds, checks types, lints and runs every test. The last line is the outcome. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { memoryFolder } from './memory-folder.mjs';
import { ROOT, begin, installed, run, setUp } from './set-up.mjs';

const node = process.execPath;
// Debian's packages are fetched while npm's are.
const programs = begin(node, [join(ROOT, 'infra', 'setup', 'system-programs.mjs')]);
setUp();

const checks = [
  ['the programs that tests need', programs],
  ['the types of the pages', begin(node, [installed('typescript', 'bin', 'tsc'), '-p', join('services', 'review')])],
  ['the types of the tests', begin(node, [installed('typescript', 'bin', 'tsc'), '-p', 'tests'])],
  ['the lint rules', begin(node, [installed('oxlint', 'bin', 'oxlint'), '--deny-warnings', 'packages', 'services', 'workers', 'tests', 'infra'])],
  ['known weaknesses of the dependencies', begin(node, [join(ROOT, 'infra', 'setup', 'audit.mjs')])],
];
const failedChecks = [];
for (const [name, ended] of checks) if ((await ended) !== 0) failedChecks.push(name);

const inMemory = memoryFolder();
if (inMemory !== null) process.env.TMPDIR = inMemory;
const outcome = runTests(process.argv.slice(2));
if (inMemory !== null) rmSync(inMemory, { recursive: true, force: true, maxRetries: 3 });
for (const name of failedChecks) console.error(`Failed: ${name}.`);
for (const name of outcome.skipped) console.error(`Skipped, which counts as a failure of the run: ${name}`);
const failed = failedChecks.length + outcome.failed;
console.log(`${outcome.passed} passed, ${failed} failed`);
process.exit(failed === 0 && outcome.passed > 0 && outcome.skipped.length === 0 && outcome.exitCode === 0 ? 0 : 1);

/** Runs vitest; the counts come from its own record of the run. */
function runTests(only) {
  const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-tests-'));
  const record = join(folder, 'outcome.json');
  try {
    const exitCode = run(node, [
      installed('vitest', 'vitest.mjs'), 'run', '--allowOnly=false', '--reporter=default', '--reporter=json', `--outputFile.json=${record}`, ...only,
    ]);
    return { exitCode, ...countOutcome(record) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function countOutcome(record) {
  let files;
  try {
    files = JSON.parse(readFileSync(record, 'utf8')).testResults;
  } catch (error) {
    console.error(`The tests left no record: ${error.message}`);
    return { passed: 0, failed: 1, skipped: [] };
  }
  const tests = files.flatMap((file) => file.assertionResults);
  const brokenFiles = files.filter((file) => file.status === 'failed' && !file.assertionResults.some((t) => t.status === 'failed'));
  return {
    passed: tests.filter((t) => t.status === 'passed').length,
    failed: tests.filter((t) => t.status === 'failed').length + brokenFiles.length,
    skipped: tests.filter((t) => t.status !== 'passed' && t.status !== 'failed').map((t) => t.fullName),
  };
}

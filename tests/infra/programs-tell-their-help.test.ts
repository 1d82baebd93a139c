import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const ROOT = new URL('../../', import.meta.url);
const { scripts } = JSON.parse(readFileSync(new URL('package.json', ROOT), 'utf8')) as { scripts: Record<string, string> };
const programs = Object.entries(scripts).filter(([, command]) => command.startsWith('node infra/setup/run-built.mjs '));

const node = (...args: string[]): { status: number | null; out: string; err: string } => {
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: ROOT, encoding: 'utf8' });
  return { status, out: stdout, err: stderr };
};

describe('programs beside the service', () => {
  test('there are some', () => expect(programs.length).toBeGreaterThan(5));

  test.each(programs)('%s says by --help what it does and how it is called', (name, command) => {
    const { status, out, err } = node(...command.split(' ').slice(1), '--help');
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toContain(`npm run ${name} --`);
    expect(out).not.toMatch(/^\s*\*|\/\*/m);
  });

  test('an option that does not exist is told in a line, with exit code 2', () => {
    const { status, err } = node('--import', './infra/setup/tell-wrong-call.mjs', '--input-type=module', '-e', "import { parseArgs } from 'node:util'; parseArgs({ args: ['--nonsense'], options: {} });");
    expect({ status, err }).toEqual({ status: 2, err: "Unknown option '--nonsense'\nSay --help for the options.\n" });
  });

  test('any other fault keeps its stack and exit code 1', () => {
    const { status, err } = node('--import', './infra/setup/tell-wrong-call.mjs', '-e', "throw new Error('broken')");
    expect(status).toBe(1);
    expect(err).toContain('broken\n    at ');
  });
});

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { buildPackages, runCli } from '../support/run-cli.js';

const folder = mkdtempSync(join(tmpdir(), 'cast-to-last-rules-'));
const manifest = JSON.parse(readFileSync(new URL('../../packages/cli/package.json', import.meta.url), 'utf8'));

beforeAll(buildPackages);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('rules', () => {
  it('prints a complete default rule set that the program takes back', () => {
    const ran = runCli('rules', '--print-default');
    expect(ran.code).toBe(0);
    expect(parseRules(JSON.parse(ran.out))).toEqual(DEFAULT_RULES);
  });

  it('checks a rules file', () => {
    const path = join(folder, 'rules.json');
    writeFileSync(path, '{ "last": { "toeAllowanceMm": 11 } }');
    const good = runCli('rules', '--check', path);
    expect(good.code).toBe(0);
    expect(JSON.parse(good.out).last.toeAllowanceMm).toBe(11);
    writeFileSync(path, '{ "last": { "toeAllowanceMm": -1 } }');
    const bad = runCli('rules', '--check', path);
    expect(bad.code).toBe(3);
    expect(bad.err).toContain('last.toeAllowanceMm');
  });

  it('wants to be told which', () => {
    expect(runCli('rules').code).toBe(2);
  });
});

describe('help', () => {
  it('names every option of process and of check, and the exit codes', () => {
    const ran = runCli('process', '--help');
    expect(ran.code).toBe(0);
    for (const option of ['--side', '--kind', '--wall', '--unit', '--order', '--rules', '--decisions', '--out', '--override-side', '--json', '--quiet', '--no-sheet', '--scanner', '--pair']) {
      expect(ran.out).toContain(option);
    }
    const needed = (text: string): string[] => [...text.replaceAll(/\n {10,}/g, ' ').matchAll(/^ +(--[\w-]+) .*\(always needed\)$/gm)].map(([, option]) => option);
    expect(needed(ran.out)).toEqual(['--side', '--out']);
    expect(needed(runCli('scanner-check', '--help').out)).toEqual(['--diameter']);
    const check = runCli('check', '--help');
    expect(check.code).toBe(0);
    for (const option of ['--side', '--kind', '--wall', '--unit', '--order', '--rules', '--out', '--override-side', '--json', '--quiet']) expect(check.out).toContain(option);
    for (const option of ['--decisions', '--no-sheet', '--pair']) expect(check.out).not.toContain(option);
    expect(runCli('--help').out).toMatch(/0 done, 2 wrong call, 3 .*, 1 anything else/);
  });

  it('gives the version of the package', () => {
    expect(runCli('--version')).toEqual({ code: 0, out: `${manifest.version}\n`, err: '' });
  });
});

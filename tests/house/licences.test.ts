import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
// @ts-expect-error -- a script of the set-up, without types
import { EXCEPTIONS, exceptionOf, isPermitted, licencesText, lockedPackages } from '../../infra/licences/licences.mjs';

interface Locked {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
}

describe('licences of dependencies', () => {
  const all = lockedPackages() as Locked[];

  it('are permissive, or excepted with a reason', () => {
    expect(all.length).toBeGreaterThan(200);
    expect(all.filter((entry) => !isPermitted(entry.licence) && exceptionOf(entry) === null).map(({ name, licence }) => `${name}: ${licence}`)).toEqual([]);
  });

  it('no exception is left over', () => {
    for (const { packages, licence } of EXCEPTIONS as { packages: RegExp; licence: RegExp }[]) expect(all.some((e) => packages.test(e.name) && licence.test(e.licence)), String(packages)).toBe(true);
  });

  it.each([['MIT', true], ['(MIT OR GPL-3.0)', true], ['MIT AND OFL-1.1', false], ['LGPL-3.0-or-later', false], ['not named', false]])('%s: %s', (licence, permitted) => {
    expect(isPermitted(licence)).toBe(permitted);
  });

  it('are listed as they are; npm run licences writes the list anew', () => {
    expect(readFileSync(new URL('../../infra/licences/LICENCES.md', import.meta.url), 'utf8')).toBe(licencesText());
  });
});

/** Licences of all that the lock file names. `node infra/licences/write-licences.mjs` writes them down in infra/licences/LICENCES.md. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../setup/set-up.mjs';

/** Licences that the project takes without a question, as SPDX names them. */
const PERMITTED = ['MIT', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', 'ISC', '0BSD', 'BlueOak-1.0.0', 'CC0-1.0', 'Unlicense'];

/** What has another licence, or names none, and why it is taken all the same. The first that fits holds. */
export const EXCEPTIONS = [
  { packages: /^(@expo-google-fonts\/arimo|@fontsource-variable\/atkinson-hyperlegible-next)$/, licence: /OFL-1\.1/, why: 'a font: embedded in sheets and served to the pages, which its licence allows' },
  { packages: /^@img\/sharp-/, licence: /LGPL-3\.0-or-later/, why: 'an optional part of tools that come with manifold-3d; the program never loads it' },
  { packages: /^axe-core$/, licence: /^MPL-2\.0$/, why: 'judges the pages in tests; not part of what runs' },
  { packages: /^lightningcss/, licence: /^MPL-2\.0$/, why: 'used by Vite while the pages are built; not part of what runs' },
  { packages: /^png-js$/, licence: /^not named$/, why: 'names none in its manifest; the file beside it is the MIT licence' },
];

/** Every package of the lock file once a version: name, version, licence, whether it is for development alone. */
export function lockedPackages() {
  const { packages } = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8'));
  const found = new Map();
  for (const [path, { version, license, dev = false, devOptional = false, link }] of Object.entries(packages)) {
    if (link || !path.includes('node_modules/')) continue;
    const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
    const key = `${name}@${version}`;
    const before = found.get(key);
    found.set(key, { name, version, licence: license ?? 'not named', development: (dev || devOptional) && (before?.development ?? true) });
  }
  return [...found.values()].sort((a, b) => a.name.localeCompare(b.name, 'en') || a.version.localeCompare(b.version, 'en'));
}

/** Whether an SPDX expression asks for nothing beyond the permitted licences. */
export const isPermitted = (licence) =>
  licence.replaceAll(/[()]/g, '').split(/ AND /).every((part) => part.split(/ OR /).some((name) => PERMITTED.includes(name.trim())));

export const exceptionOf = ({ name, licence }) => EXCEPTIONS.find((e) => e.packages.test(name) && e.licence.test(licence)) ?? null;

/** The list in Markdown. */
export function licencesText() {
  const all = lockedPackages();
  const byLicence = new Map();
  for (const entry of all) byLicence.set(entry.licence, [...(byLicence.get(entry.licence) ?? []), entry]);
  const named = ({ name, version }) => `${name} ${version}`;
  const rows = [...byLicence].sort(([a], [b]) => a.localeCompare(b, 'en')).flatMap(([licence, entries]) =>
    [['runs', entries.filter((e) => !e.development)], ['development', entries.filter((e) => e.development)]]
      .filter(([, list]) => list.length > 0).map(([use, list]) => `| ${licence} | ${use} | ${list.map(named).join(', ')} |`));
  return [
    '# Licences of dependencies',
    '',
    'From the lock file, by `npm run licences`; a test holds this list to it. `runs`: part of a running program; `development`: only builds or tests it.',
    '',
    '| licence | use | packages |', '|---|---|---|', ...rows,
    '',
    'Taken although not on the list of permissive licences:', '',
    ...EXCEPTIONS.map(({ packages, why }) => `- ${all.filter(({ name, licence }) => packages.test(name) && !isPermitted(licence)).map(({ name }) => name).join(', ')}: ${why}.`),
    '',
  ].join('\n');
}

/**
 * npm run audit: asks the registry for known weaknesses of what runs in production. Exit code 1 where it names one that is
 * high or critical; a registry that answers no such question is said, and tells nothing.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { ROOT } from './set-up.mjs';

/** From which severity on a weakness fails the run. */
const FAILING = ['high', 'critical'];

/**
 * What npm's answer says, in lines.
 *
 * @param answer what `npm audit --json` printed
 * @returns whether a weakness fails the run, and what to print
 */
export function judgeAudit(answer) {
  let told;
  try {
    told = JSON.parse(answer);
  } catch {
    return { fails: false, lines: ['npm gave no answer on known weaknesses of the dependencies: they are not known.'] };
  }
  if (told.vulnerabilities === undefined) return { fails: false, lines: [`The registry does not tell known weaknesses of the dependencies (${told.message ?? 'no reason given'}): they are not known.`] };
  const weak = Object.values(told.vulnerabilities);
  if (weak.length === 0) return { fails: false, lines: ['No known weakness of the dependencies.'] };
  const lines = weak.map(({ name, severity, range, fixAvailable }) => `${severity}: ${name} ${range}${fixAvailable ? ', mended in a later version' : ''}`);
  return { fails: weak.some(({ severity }) => FAILING.includes(severity)), lines: ['Known weaknesses of the dependencies:', ...lines.sort()] };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json', '--fetch-retries=0', '--fetch-timeout=20000'], { cwd: ROOT, encoding: 'utf8', shell: process.platform === 'win32', maxBuffer: 64 * 1024 * 1024 });
  const { fails, lines } = judgeAudit(stdout ?? '');
  for (const line of lines) console.log(line);
  process.exit(fails ? 1 : 0);
}

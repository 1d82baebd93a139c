import { describe, expect, it } from 'vitest';
// @ts-expect-error a script without types
import { judgeAudit } from '../../infra/setup/audit.mjs';

/** As npm 10 prints it (`npm audit --json`, audit report version 2). */
const answer = (vulnerabilities: object): string => JSON.stringify({ auditReportVersion: 2, vulnerabilities, metadata: {} });
const weakness = (severity: string) => ({ name: 'left-over', severity, isDirect: false, via: [], effects: [], range: '<1.2.3', nodes: [], fixAvailable: true });

describe('known weaknesses of the dependencies', () => {
  it.each([['low', false], ['moderate', false], ['high', true], ['critical', true]])('a %s one fails the run: %s', (severity, fails) => {
    const judged = judgeAudit(answer({ 'left-over': weakness(severity) }));
    expect(judged.fails).toBe(fails);
    expect(judged.lines).toContain(`${severity}: left-over <1.2.3, mended in a later version`);
  });

  it('none is said', () => expect(judgeAudit(answer({}))).toEqual({ fails: false, lines: ['No known weakness of the dependencies.'] }));

  it.each([
    [JSON.stringify({ message: '405 Method Not Allowed', statusCode: 405 }), '405 Method Not Allowed'],
    ['', 'no answer'],
  ])('a registry that does not tell is not taken for one that found none (%#)', (printed, said) => {
    const { fails, lines } = judgeAudit(printed);
    expect(fails).toBe(false);
    expect(lines.join(' ')).toContain(said);
    expect(lines.join(' ')).toContain('not known');
  });
});

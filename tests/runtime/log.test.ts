import { describe, expect, it } from 'vitest';
import { NEVER_LOGGED, openLog } from '@cast-to-last/runtime/log';

function written(level: 'info' | 'debug', write: (log: ReturnType<typeof openLog>) => void): Record<string, unknown>[] {
  const lines: string[] = [];
  write(openLog({ logLevel: level }, 'tests', { write: (line) => void lines.push(line) }));
  return lines.map((line) => JSON.parse(line));
}

describe('the log', () => {
  it('writes lines of JSON with the program, the level in words, the time, and the job in each line of a job', () => {
    const [line] = written('info', (log) => {
      log.debug('not this');
      log.child({ job: 'j-1' }).info({ stage: 'repair' }, 'a stage ended');
    });
    expect(line).toMatchObject({ program: 'tests', level: 'info', job: 'j-1', stage: 'repair', msg: 'a stage ended' });
    expect(new Date(String(line.time)).getTime()).toBeGreaterThan(0);
  });

  it('keeps personal data and secrets out, one level down too', () => {
    const person = Object.fromEntries(NEVER_LOGGED.map((key) => [key, 'not for the log']));
    const lines = written('info', (log) => {
      log.info({ id: 'c-1', ...person }, 'at the top');
      log.info({ customer: { id: 'c-1', ...person } }, 'one level down');
    });
    expect(lines).toHaveLength(2);
    expect(JSON.stringify(lines)).not.toContain('not for the log');
    expect(lines[1].customer).toEqual({ id: 'c-1' });
  });
});

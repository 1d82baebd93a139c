import { destination, pino } from 'pino';
import type { DestinationStream, Logger } from 'pino';
import type { Config } from './config.js';

export type Log = Logger;

/**
 * Names under which personal data or secrets could come; their values never reach the log, at the top of a line or one
 * level down. Log ids and numbers.
 */
export const NEVER_LOGGED = [
  'name', 'displayName', 'contact', 'email', 'phone', 'address', 'remarks', 'note', 'consent', 'fileName', 'password', 'passwordHash', 'token', 'secret',
  'cookie', 'authorization', 'content',
] as const;

/** Structured lines (JSON) with the program's name; `log.child({ job })` puts the job's id into each. Standard error where no stream is given. */
export function openLog({ logLevel }: Pick<Config, 'logLevel'>, program: string, stream: DestinationStream = destination(2)): Log {
  return pino(
    {
      level: logLevel,
      base: { program, pid: process.pid },
      timestamp: () => `,"time":"${new Date().toISOString()}"`,
      formatters: { level: (label) => ({ level: label }) },
      redact: { paths: NEVER_LOGGED.flatMap((key) => [key, `*.${key}`]), remove: true },
    },
    stream,
  );
}

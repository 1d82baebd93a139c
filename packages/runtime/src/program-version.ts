import { createRequire } from 'node:module';

/** The program's version, as its package names it. */
export const PROGRAM_VERSION: string = createRequire(import.meta.url)('../package.json').version;

import { openLog } from '@cast-to-last/runtime/log';

/** A log that keeps quiet. */
export const QUIET = openLog({ logLevel: 'silent' }, 'tests');

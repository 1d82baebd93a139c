import { createHash, randomBytes } from 'node:crypto';

/** A value that cannot be guessed: 256 bits, for cookies, links and tokens. */
export const newSecret = (): string => randomBytes(32).toString('base64url');

/** All that is kept of a secret: its digest. */
export const digestOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');

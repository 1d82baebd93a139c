import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';

/** Cost of a password: 32 MB for each try (OWASP's password storage cheat sheet names N = 2^15, r = 8, p = 3). */
const COST = { N: 2 ** 15, r: 8, p: 3 } as const;
const KEY_BYTES = 32;
const MAX_MEMORY = 128 * 1024 * 1024;

/** A password as a person chooses it. Length is all that is asked: rules of composition make passwords worse (NIST SP 800-63B). */
export const passwordSchema = z.string().min(12, 'must have at least 12 characters').max(200, 'must not be longer than 200 characters');

const derive = (password: string, salt: Buffer, cost: { N: number; r: number; p: number }): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    scrypt(password.normalize('NFKC'), salt, KEY_BYTES, { ...cost, maxmem: MAX_MEMORY }, (error, key) => (error === null ? resolve(key) : reject(error)));
  });

/** What is kept of a password. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(password, salt, COST);
  return ['scrypt', COST.N, COST.r, COST.p, salt.toString('base64url'), key.toString('base64url')].join('$');
}

/** Of nobody's password: a name that does not exist takes as long as one that does. */
const NOBODY = `scrypt$${COST.N}$${COST.r}$${COST.p}$${'A'.repeat(22)}$${'A'.repeat(43)}`;

/** Whether it is the password; false, after the same time, where there is none to compare it with. */
export async function isPassword(password: string, kept: string | null): Promise<boolean> {
  const [, N, r, p, salt, key] = (kept ?? NOBODY).split('$');
  const derived = await derive(password, Buffer.from(salt, 'base64url'), { N: Number(N), r: Number(r), p: Number(p) });
  const expected = Buffer.from(key, 'base64url');
  return derived.length === expected.length && timingSafeEqual(derived, expected) && kept !== null;
}

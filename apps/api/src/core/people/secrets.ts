import { createHash, randomBytes } from 'node:crypto';
import { hash, verify } from '@node-rs/argon2';

/** OWASP's floor for argon2id (m = 19 MiB, t = 2, p = 1); the parameters are stored inside each hash. */
const argon2id = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;
const written = `$argon2id$v=19$m=${argon2id.memoryCost},t=${argon2id.timeCost},p=${argon2id.parallelism}$`;

export const hashSecret = (secret: string): Promise<string> => hash(secret.normalize('NFKC'), argon2id);

/** Whether a hash was made with other parameters than today's, so that it is made anew when its secret is given. */
export const isOutdated = (stored: string): boolean => !stored.startsWith(written);

/**
 * Whether `secret` is the one behind `stored`. Somebody without a secret costs the same time as a wrong one, so
 * that the clock does not tell names apart.
 */
export async function verifySecret(stored: string | null, secret: string): Promise<boolean> {
  const right = await verify(stored ?? (await nobodysHash), secret.normalize('NFKC'));
  return stored !== null && right;
}
const nobodysHash = hashSecret(randomBytes(16).toString('hex'));

/** 256 random bits for a sign-in or a link; only its hash is stored. */
export const newToken = (): string => randomBytes(32).toString('base64url');
export const tokenHash = (token: string): Buffer => createHash('sha256').update(token).digest();

import { randomBytes } from 'node:crypto';

const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * What somebody types, or scans, to ask whether a certificate stands: 80 bits by chance, so that no code is found by trying.
 *
 * @example
 * checkCode() // '7F3K-0Q9M-ZT41-H8PV'
 */
export const checkCode = (): string =>
  [...randomBytes(16)]
    .map((byte) => ALPHABET[byte % ALPHABET.length])
    .join('')
    .replaceAll(/(.{4})(?=.)/g, '$1-');

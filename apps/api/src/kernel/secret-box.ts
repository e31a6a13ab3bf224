import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto';

/** Seals what the database must not give away to whoever reads it. */
export interface SecretBox {
  /** `about` says whose it is: moved to somebody else it does not open. */
  seal(text: string, about: string): string;
  /** Null where it was sealed with another key, for somebody else, or altered. */
  open(sealed: string, about: string): string | null;
}

const algorithm = 'aes-256-gcm';
const prefix = 'sealed:';
const NONCE_BYTES = 12;
const TAG_BYTES = 16;

export const isSealed = (text: string): boolean => text.startsWith(prefix);

/**
 * AES-256 in GCM (NIST SP 800-38D) with a random nonce for each text; `key` has 32 bytes.
 *
 * @example
 * const box = secretBox(openKeyFile(file));
 * box.open(box.seal('secret', 'app of person 7'), 'app of person 7') // 'secret'
 */
export function secretBox(key: Buffer): SecretBox {
  return {
    seal(text, about) {
      const nonce = randomBytes(NONCE_BYTES);
      const cipher = createCipheriv(algorithm, key, nonce, { authTagLength: TAG_BYTES });
      cipher.setAAD(Buffer.from(about));
      const parts = [nonce, cipher.update(text, 'utf8'), cipher.final(), cipher.getAuthTag()];
      return `${prefix}${Buffer.concat(parts).toString('base64url')}`;
    },
    open(sealed, about) {
      const bytes = Buffer.from(sealed.slice(prefix.length), 'base64url');
      if (!isSealed(sealed) || bytes.length < NONCE_BYTES + TAG_BYTES) return null;
      const nonce = bytes.subarray(0, NONCE_BYTES);
      const decipher = createDecipheriv(algorithm, key, nonce, { authTagLength: TAG_BYTES });
      decipher.setAAD(Buffer.from(about));
      decipher.setAuthTag(bytes.subarray(-TAG_BYTES));
      try {
        const text = decipher.update(bytes.subarray(NONCE_BYTES, -TAG_BYTES));
        return Buffer.concat([text, decipher.final()]).toString('utf8');
      } catch {
        return null;
      }
    },
  };
}

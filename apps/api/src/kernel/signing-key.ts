import { createHash, createPrivateKey, createPublicKey, sign, verify } from 'node:crypto';

/** A key of the shop that signs what leaves it. */
export interface SigningKey {
  /** SubjectPublicKeyInfo, DER, in Base64. */
  publicKey: string;
  /** SHA-256 of the public key, hexadecimal: what people compare. */
  fingerprint: string;
  sign: (bytes: Buffer) => string;
}

/** What stands before the seed of an Ed25519 key in PKCS #8 (RFC 8410). */
const PKCS8 = Buffer.from('302e020100300506032b657004220420', 'hex');

/**
 * The Ed25519 key that grows from 32 secret bytes.
 *
 * @example
 * const key = signingKeyOf(openKeyFile(processKeyFile));
 */
export function signingKeyOf(seed: Buffer): SigningKey {
  const secret = createPrivateKey({ key: Buffer.concat([PKCS8, seed]), format: 'der', type: 'pkcs8' });
  const publicKey = createPublicKey(secret).export({ format: 'der', type: 'spki' }).toString('base64');
  return {
    publicKey,
    fingerprint: fingerprintOf(publicKey),
    sign: (bytes) => sign(null, bytes, secret).toString('base64'),
  };
}

export const fingerprintOf = (publicKey: string): string =>
  createHash('sha256').update(Buffer.from(publicKey, 'base64')).digest('hex');

/** Whether a signature is of these bytes, by that key; a key that is none signed nothing. */
export function isSignedBy(publicKey: string, { bytes, value }: { bytes: Buffer; value: string }): boolean {
  try {
    const key = createPublicKey({ key: Buffer.from(publicKey, 'base64'), format: 'der', type: 'spki' });
    return key.asymmetricKeyType === 'ed25519' && verify(null, bytes, key, Buffer.from(value, 'base64'));
  } catch {
    return false;
  }
}

import { Secret, TOTP } from 'otpauth';

const PERIOD_S = 30;

const totp = (secret: string, label = '') =>
  new TOTP({ issuer: 'Huelot', label, secret: Secret.fromBase32(secret), digits: 6, period: PERIOD_S });

/** 160 random bits in base32, as RFC 4226 recommends. */
export const newAppSecret = (): string => new Secret({ size: 20 }).base32;

/** What an app reads from the picture. */
export const appUri = (secret: string, label: string): string => totp(secret, label).toString();

/** The code of an instant, after RFC 6238. */
export const codeAt = (secret: string, instantMs: number): string =>
  totp(secret).generate({ timestamp: instantMs });

/**
 * Which half minute since 1970 a code is of, or null if it is wrong: this one, the one before or the one after, since
 * clocks differ and people type slowly.
 *
 * @example
 * stepOfCode(secret, '287082', Date.now())
 */
export function stepOfCode(secret: string, code: string, nowMs: number): number | null {
  const delta = totp(secret).validate({ token: code, timestamp: nowMs, window: 1 });
  return delta === null ? null : Math.floor(nowMs / 1000 / PERIOD_S) + delta;
}

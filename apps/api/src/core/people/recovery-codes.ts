import { randomBytes } from 'node:crypto';
import { Secret } from 'otpauth';
import type { Queryable } from '../../db/client.ts';
import * as queries from './second-factor-queries.ts';
import { tokenHash } from './secrets.ts';

const codesOfAPerson = 10;

/** 80 random bits, in groups that can be read off paper. */
const newCode = () =>
  new Secret({ buffer: Uint8Array.from(randomBytes(10)).buffer }).base32
    .toLowerCase()
    .replace(/(.{4})(?=.)/g, '$1-');

/** Case, spaces and dashes do not count; a plain hash is enough for what nobody can guess. */
const hashOf = (code: string) => Uint8Array.from(tokenHash(code.toLowerCase().replaceAll(/[^a-z0-9]/g, '')));

/** Ten fresh codes; earlier ones die. They are returned once and nowhere kept. */
export async function makeRecoveryCodes(db: Queryable, personId: number): Promise<string[]> {
  const codes = Array.from({ length: codesOfAPerson }, newCode);
  await queries.replaceCodes(db, personId, codes.map(hashOf));
  return codes;
}

/** Uses a code up; false when there is no such code, or it was used. */
export const useRecoveryCode = (db: Queryable, personId: number, code: string): Promise<boolean> =>
  queries.useCode(db, personId, hashOf(code));

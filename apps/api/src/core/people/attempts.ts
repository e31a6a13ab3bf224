import { isIP } from 'node:net';
import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { apart } from '../../db/unit.ts';
import { DomainError } from '../../kernel/refusal.ts';
import * as queries from './attempt-queries.ts';

const QUARTER_S = 15 * 60;
const DAY_S = 24 * 3600;
/**
 * How often a secret may be tried. After OWASP's device cookies: a browser that the person signed in with before counts
 * by itself, so that nobody is locked out by what strangers do elsewhere. The limit of a day follows NIST SP 800-63B,
 * which allows a hundred failures of one account.
 */
export const attemptLimits = {
  pair: { allowed: 10, windowS: QUARTER_S },
  account: { allowed: 30, windowS: QUARTER_S },
  accountInADay: { allowed: 100, windowS: DAY_S },
  source: { allowed: 50, windowS: QUARTER_S },
} as const;

/** Spaces of their own, so that no name can be mistaken for a PIN. */
export type Secret = 'password' | 'pin' | 'code' | 'link' | 'passkey';

export interface Attempt {
  secret: Secret;
  /** Whose secret; null where it belongs to nobody. */
  account: string | null;
  /** Who tries: an address, or a person who is signed in. */
  source: string;
  /** A browser or sign-in of the person, which counts by itself. */
  trusted: string | null;
}

/** An attempt that was counted and may now be evaluated. */
export interface Counted {
  /** The first or the last of a window: only these get a line of the audit trail, which must not grow with a flood. */
  isNoted: boolean;
  reserved: readonly queries.Reserved[];
}

/**
 * Counts an attempt before its secret is looked at, all limits or none; past a limit it is refused unseen.
 *
 * @example
 * const counted = await beginAttempt(db, { secret: 'pin', account: 'person 7', source: 'person 3', trusted: null });
 */
export async function beginAttempt(db: Db, attempt: Attempt): Promise<Counted> {
  const limits = limitsOf(attempt);
  const keys = limits.map(({ key }) => key);
  // A flood is turned away by a look, so that it holds no rows that others wait for.
  const usedUpUntil = await queries.lastEnd(db.execute, keys);
  if (usedUpUntil !== null) throw tooMany(attempt.secret, usedUpUntil);
  const count = async (execute: SqlExecutor) => {
    const reserved = await queries.countAttempt(execute, limits);
    if (reserved.length < limits.length) {
      throw tooMany(attempt.secret, await queries.lastEnd(execute, keys));
    }
    const isEdge = ({ key, allowed }: queries.Limit) =>
      [1, allowed].includes(reserved.find((row) => row.key === key)?.count ?? 0);
    return { isNoted: limits.some(isEdge), reserved };
  };
  return apart(() => withSqlTransaction(db, count));
}

/** The secret was right: the attempt was no guess. */
export const wasRight = (db: Db, { reserved }: Counted) =>
  apart(() => queries.uncountAttempt(db.execute, reserved));

/** A secret that its owner has just replaced starts afresh: what was guessed at the old one does not count. */
export const forgetAttempts = (db: Pick<Db, 'execute'>, secret: Secret, account: string) =>
  queries.forgetAttempts(db.execute, [`${secret} of ${account}`, `${secret} of ${account} in a day`]);

function limitsOf({ secret, account, source, trusted }: Attempt): queries.Limit[] {
  const { pair, account: ofAccount, accountInADay, source: ofSource } = attemptLimits;
  if (account === null) return [{ key: `${secret} from ${source}`, ...ofSource }];
  if (trusted !== null) return [{ key: `${secret} of ${account} on ${trusted}`, ...pair }];
  return [
    { key: `${secret} of ${account} from ${source}`, ...pair },
    { key: `${secret} of ${account}`, ...ofAccount },
    { key: `${secret} of ${account} in a day`, ...accountInADay },
    { key: `${secret} from ${source}`, ...ofSource },
  ];
}

function tooMany(secret: Secret, endsAt: Date | null): DomainError {
  const minutes = Math.max(1, Math.ceil(((endsAt?.getTime() ?? 0) - Date.now()) / 60_000));
  const wait =
    minutes > 90 ? `${Math.ceil(minutes / 60)} hours` : minutes === 1 ? 'a minute' : `${minutes} minutes`;
  const otherWay: Record<Secret, string> = {
    password:
      ' A browser you signed in with before may still let you in; an owner can give you a one-time link.',
    pin: ' Whose PIN it is can set a new one, with the password.',
    code: '',
    link: '',
    passkey: '',
  };
  return new DomainError(
    'too-many-requests',
    `Too many wrong attempts. Try again in ${wait}.${otherWay[secret]}`,
  );
}

/**
 * What of an address one household or machine has to itself: all of IPv4, the first 64 bits of IPv6.
 *
 * @example
 * networkOf('2001:db8:1:2:3:4:5:6') // '2001:db8:1:2::/64'
 */
export function networkOf(address: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined || isIP(address) !== 6) return mapped ?? address;
  const canonical = new URL(`http://[${address.replace(/%.*$/, '')}]`).hostname.slice(1, -1);
  const [head = '', tail] = canonical
    .split('::')
    .map((half) => half.split(':').filter(Boolean))
    .map((half) => half.join(':'));
  const front = head === '' ? [] : head.split(':');
  const back = tail === undefined || tail === '' ? [] : tail.split(':');
  const groups = [...front, ...Array<string>(8 - front.length - back.length).fill('0'), ...back];
  return `${groups.slice(0, 4).join(':')}::/64`;
}

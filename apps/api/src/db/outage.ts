/** Why the database could not do what was asked, though nothing was wrong with the request. */
export type Outage =
  | 'unreachable'
  | 'refused'
  | 'starting'
  | 'stopping'
  | 'connection-lost'
  | 'read-only'
  | 'busy'
  | 'out-of-memory'
  | 'too-slow'
  | 'disk-full';

interface Sign {
  outage: Outage;
  /** SQLSTATEs, Prisma's codes, codes of the operating system, and the kinds of Prisma's adapter. */
  codes: readonly string[];
  /** Of what carries no code. */
  words?: RegExp;
}

/**
 * How each outage shows. The first row that fits decides: a fuller account of one failure stands above a vaguer one.
 * SQLSTATEs are of PostgreSQL's appendix A, codes with P of Prisma's error reference.
 */
const signs: readonly Sign[] = [
  { outage: 'disk-full', codes: ['53100', 'ENOSPC', 'EDQUOT'], words: /no space left on device/i },
  { outage: 'stopping', codes: [], words: /the database system is shutting down/i },
  { outage: 'starting', codes: ['57P03'], words: /the database system is (?:starting up|in recovery mode)/i },
  {
    outage: 'busy',
    codes: ['53300', 'P2024', 'P2037', 'TooManyConnections'],
    words: /timeout exceeded when trying to connect|unable to start a transaction in the given time/i,
  },
  {
    outage: 'too-slow',
    codes: ['57014', '55P03'],
    words: /the timeout for this transaction was|query read timeout/i,
  },
  { outage: 'out-of-memory', codes: ['53000', '53200', '53400'] },
  { outage: 'read-only', codes: ['25006'] },
  {
    outage: 'refused',
    codes: [
      '28000',
      '28P01',
      '3D000',
      'P1000',
      'P1003',
      'P1010',
      'P1011',
      'DatabaseDoesNotExist',
      'DatabaseAccessDenied',
      'AuthenticationFailed',
      'TlsConnectionError',
    ],
    words:
      /not currently accepting connections|the server does not support SSL connections|password must be a string/i,
  },
  {
    outage: 'unreachable',
    codes: [
      ...['ECONNREFUSED', 'ENOTFOUND', 'EAI_AGAIN', 'EHOSTUNREACH', 'ENETUNREACH', 'EADDRNOTAVAIL'],
      ...['08001', '08004', 'P1001', 'P1002', 'DatabaseNotReachable'],
    ],
    words: /connection terminated due to connection timeout|ENOENT.*\.s\.PGSQL|can't reach database/i,
  },
  {
    outage: 'connection-lost',
    codes: [
      ...['08000', '08003', '08006', '08007', '08P01', '57P01', '57P02', '57P04', '57P05'],
      ...['ECONNRESET', 'EPIPE', 'ETIMEDOUT', 'ECONNABORTED'],
      ...['P1008', 'P1017', 'P2028', 'ConnectionClosed', 'SocketTimeout'],
    ],
    words:
      /connection terminated|is not queryable|server has closed the connection|connection ended unexpectedly|cannot use a pool after calling end/i,
  },
];

/**
 * The outage that a failure shows, or null when it shows something else. An SQLSTATE decides by itself, because the
 * words beside it may quote what somebody typed.
 *
 * @example
 * outageOf(Object.assign(new Error('x'), { code: 'ECONNREFUSED' })); // 'unreachable'
 */
export function outageOf(error: unknown): Outage | null {
  const { codes, words } = evidence(error);
  const sqlStates = codes.filter((code) => /^[0-9A-Z]{5}$/.test(code) && !/^P[12]|^E/.test(code));
  const isVague = sqlStates.some((state) => vague.has(state));
  const decisive = sqlStates.length > 0 ? sqlStates : codes;
  const sign = signs.find(
    (row) =>
      row.codes.some((code) => decisive.includes(code)) ||
      ((sqlStates.length === 0 || isVague) && words.some((text) => row.words?.test(text))),
  );
  return sign?.outage ?? null;
}

/** SQLSTATEs that a server says of a start as of a stop, or of a closed database as of much else. */
const vague = new Set(['57P03', '55000']);

/** All codes and words of an error and of what caused it. */
function evidence(error: unknown): { codes: string[]; words: string[] } {
  const codes: string[] = [];
  const words: string[] = [];
  const seen = new Set<unknown>();
  const visit = (thrown: unknown): void => {
    if (thrown === null || typeof thrown !== 'object' || seen.has(thrown)) return;
    seen.add(thrown);
    const { code, originalCode, errorCode, kind, message, originalMessage, meta, cause, errors } =
      thrown as Record<string, unknown>;
    codes.push(...[code, originalCode, errorCode, kind].filter(isText));
    words.push(...[message, originalMessage].filter(isText));
    for (const inner of [(meta as { driverAdapterError?: unknown } | undefined)?.driverAdapterError, cause])
      visit(inner);
    if (Array.isArray(errors)) errors.forEach(visit);
  };
  visit(error);
  return { codes, words };
}
const isText = (value: unknown): value is string => typeof value === 'string';

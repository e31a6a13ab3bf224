import { existsSync, readFileSync, statSync } from 'node:fs';
import type { Db } from '../db/client.ts';
import {
  beginCheck,
  parseSeal,
  readKeys,
  type ChainKeys,
  type Seal,
  type Verdict,
} from '../core/hash-chain/index.ts';

/**
 * Compares the whole record with its chain, for whoever runs the server.
 *
 * @returns what to print when everything is whole
 * @throws Error with the first broken place in words otherwise
 */
export async function verifyRecord(options: {
  /** The text of a seal that was kept elsewhere, or a file that holds it. */
  seal: string | null;
  keyFile: string;
  withDatabase: <T>(work: (db: Db) => Promise<T>) => Promise<T>;
}): Promise<string> {
  const { keyFile } = options;
  const seal = options.seal === null ? null : readSealArgument(options.seal);
  const keys = readKeys(keyFile);
  if (keys === null) {
    throw new Error(
      `The key of the chain is not in ${keyFile}. Put the file back, or name it with HUELOT_CHAIN_KEY_FILE; without it nothing can be compared.`,
    );
  }
  const verdict = await options.withDatabase(async (db) => {
    const check = await beginCheck(db, { keys, seal, startedBy: 'npm run verify', longestMs: Infinity });
    return check.verdict;
  });
  if (!verdict.whole) throw new Error(describeFaults(verdict, { keys, keyFile }));
  return [
    `The record is whole: ${verdict.entries} entries of the chain and ${verdict.files} attached files agree with what is stored.`,
    ...(seal === null ? [] : [`It agrees with the seal of entry ${seal.position}.`]),
    ...(verdict.head === null ? [] : [`Newest entry: ${verdict.head.position}-${verdict.head.digest}`]),
  ].join('\n');
}

function readSealArgument(text: string): Seal {
  const isFile = existsSync(text) && statSync(text).isFile();
  const seal = parseSeal(isFile ? readFileSync(text, 'utf8') : text);
  if (seal !== null) return seal;
  throw new Error(
    `${isFile ? `${text} holds` : 'That is'} no seal, or more than one. A seal is a number, a dash and 64 digits from 0 to 9 and a to f.`,
  );
}

const SHOWN = 20;

function describeFaults(
  { faults, faultCount, unknownKeys }: Verdict,
  { keys, keyFile }: { keys: ChainKeys; keyFile: string },
): string {
  const [first, ...others] = faults;
  const shown = others.slice(0, SHOWN);
  const rest = faultCount - shown.length - 1;
  return [
    ...(first === undefined
      ? []
      : [
          `The record is NOT whole: ${faultCount === 1 ? 'one place is' : `${faultCount} places are`} not as chained.`,
          `First broken place: ${first.words}`,
          ...(shown.length === 0 ? [] : ['Then:', ...shown.map(({ words }) => `  ${words}`)]),
          ...(rest > 0 ? [`  and ${rest} more.`] : []),
        ]),
    ...unknownKeys.map(
      ({ keyId, from, to }) =>
        `Entries ${from} to ${to} could not be compared: they were made with the key ${keyId}, and ${keyFile} holds ${[...keys.byId.keys()].join(', ')}.`,
    ),
  ].join('\n');
}

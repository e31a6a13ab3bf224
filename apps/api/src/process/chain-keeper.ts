import type { Db } from '../db/client.ts';
import {
  isChainEmpty,
  linkOutstanding,
  makeFirstKey,
  readKeys,
  sealDaily,
  sealText,
  type ChainKeys,
} from '../core/hash-chain/index.ts';
import type { Mailer } from '../kernel/mailer.ts';

const LINK_MS = 3_000;
/** How often it is looked whether the seal of the day is due. */
const SEAL_MS = 60_000;

/**
 * The keys of the chain from `file`. They are made where there are none and nothing is chained yet; a chain whose key is
 * gone waits for it.
 */
export async function openChainKeys(
  db: Db,
  file: string,
): Promise<{ keys: ChainKeys | null; notices: string[] }> {
  const keys = readKeys(file);
  if (keys !== null) return { keys, notices: [] };
  if (await isChainEmpty(db.execute)) {
    const made = makeKeyOrSay(file);
    return {
      keys: made,
      notices: [
        `The key of the chain over the record was made: ${file}. Keep a copy of it apart from the backups; see docs/operations.md.`,
      ],
    };
  }
  return {
    keys: null,
    notices: [
      `The key of the chain over the record is not in ${file}: what is written waits to be chained. ` +
        'Put the file back, or see “A lost key” in docs/operations.md.',
    ],
  };
}

function makeKeyOrSay(file: string): ChainKeys {
  try {
    return makeFirstKey(file);
  } catch (cause) {
    throw new Error(
      `the key of the chain cannot be written to ${file} (${(cause as Error).message}). Name a file that this account may write with HUELOT_CHAIN_KEY_FILE.`,
      { cause },
    );
  }
}

interface Keeping {
  keys: ChainKeys;
  log: { error: (about: object, words: string) => void };
  /** Where the seal of each day is sent; null where it is not. */
  mail: { mailer: Mailer; to: string; publicUrl: string } | null;
}

/**
 * Chains what was written every few seconds and seals the chain once a day; returns how to stop, which chains what is
 * left. Any number of processes may do it side by side.
 */
export function startSealing(db: Db, { keys, log, mail }: Keeping): () => Promise<void> {
  let working = Promise.resolve();
  let sealedAt = 0;
  let missingKey: string | null = null;

  const link = async () => {
    const linking = await linkOutstanding(db, { keys, wait: false });
    const missing = 'missingKey' in linking ? linking.missingKey : null;
    if (missing !== null && missing !== missingKey)
      log.error({ keyId: missing }, 'nothing is chained: the key of the newest entry is not in the key file');
    missingKey = missing;
    if (missing !== null || Date.now() - sealedAt < SEAL_MS) return;
    sealedAt = Date.now();
    const seal = await sealDaily(db);
    if (seal !== null && mail !== null)
      await mail.mailer.send({ to: mail.to, ...sealMail(seal, mail.publicUrl) });
  };
  let isFailing = false;
  const work = () => {
    working = working.then(link).then(
      () => void (isFailing = false),
      (error: unknown) => {
        // What goes on is said once.
        if (!isFailing) log.error({ err: error }, 'the record was not chained; it is tried again');
        isFailing = true;
      },
    );
    return working;
  };
  let waiting = false;
  const timer = setInterval(() => {
    if (waiting) return; // The last one is still at it.
    waiting = true;
    void work().finally(() => (waiting = false));
  }, LINK_MS);
  return () => {
    clearInterval(timer);
    return work();
  };
}

const sealMail = (seal: { position: number; digest: string; sealedAt: Date }, publicUrl: string) => ({
  subject: `Huelot: seal of the record, ${seal.sealedAt.toISOString().slice(0, 10)}`,
  text: [
    `The record at ${publicUrl} is sealed up to entry ${seal.position} of its chain:`,
    '',
    sealText(seal),
    '',
    'Keep this mail. With the line above, “npm run verify -- SEAL” or the page “Chain of the record” shows whether anything',
    'before it was altered, even by somebody who holds the key.',
  ].join('\n'),
});

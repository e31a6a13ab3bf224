import { withSqlTransaction, sql, type Db, type SqlExecutor } from '../../db/client.ts';
import { chained } from './chained.ts';
import { readAlike, readColumns, readNeverQueued } from './content-queries.ts';
import { beginning } from './digests.ts';
import { MAX_FAULTS, nameRecord, openFaults, type Fault } from './faults.ts';
import type { ChainKeys } from './keys.ts';
import { linkOutstanding } from './link.ts';
import { readForms, readLinkAt, readLinks, type Link } from './link-queries.ts';
import { readBrokenSeals } from './seal-queries.ts';
import type { Seal } from './seal-text.ts';
import { verifyBatch, type Walk } from './verify-batch.ts';
import { verifyFiles } from './verify-files.ts';

/** What a look at the whole chain found. */
export interface Verdict {
  /** True when everything was looked at and nothing is wrong. */
  whole: boolean;
  /** True when it was looked at to the end; false when time ran out. */
  complete: boolean;
  entries: number;
  files: number;
  /** The newest entry. */
  head: Seal | null;
  faultCount: number;
  /** The first first; no more than 50. */
  faults: Fault[];
  /** Stretches that were made with a key that is not at hand. */
  unknownKeys: { keyId: string; from: number; to: number }[];
}

const BATCH = 2_000;

export interface Verifying {
  keys: ChainKeys;
  /** One that was kept elsewhere. */
  seal?: Seal | null;
  /** Asked now and then: true breaks it off. */
  isOver?: () => boolean;
  /** Told now and then how far it is, from 0 to 1. */
  onProgress?: (done: number) => Promise<void>;
}

/**
 * Reads every record that is chained, every attached file and every seal, and compares them with the chain. What people
 * write meanwhile is not looked at.
 *
 * @example
 * const { whole, faults } = await verifyChain(db, { keys });
 */
export async function verifyChain(db: Db, options: Verifying): Promise<Verdict> {
  await linkOutstanding(db, { keys: options.keys, wait: true });
  return withSqlTransaction(db, async (execute) => {
    await execute(sql`set transaction isolation level repeatable read, read only`);
    await readAlike(execute);
    return verifyAsItIs(execute, options);
  });
}

async function verifyAsItIs(execute: SqlExecutor, options: Verifying): Promise<Verdict> {
  const { keys, seal = null, isOver = () => false, onProgress = () => Promise.resolve() } = options;
  const faults = openFaults();
  const columns = await readColumns(execute);
  const forms = new Map((await readForms(execute)).map((form) => [form.id, form]));
  const last = await readLastPosition(execute);
  const walk: Walk = {
    ...{
      run: execute,
      keys,
      faults,
      columns,
      forms,
      position: 0,
      digest: beginning,
      runAt: null,
      runBefore: null,
      unknownKeys: [],
    },
  };
  for (;;) {
    if (isOver()) return verdict({ complete: false, files: 0 });
    const links = await readLinks(execute, { after: walk.position, limit: BATCH });
    if (links.length === 0) break;
    await verifyBatch(walk, links);
    await onProgress(last === 0 ? 0 : (0.8 * walk.position) / last);
  }
  // Before what has no entry, which may be much where the end of the chain was cut off.
  await verifySeals(execute, { seal, last, add: (fault) => faults.add(fault) });
  for (const { table, part, when, label } of chained) {
    for (const { recordId, label: known } of await readNeverQueued(execute, {
      table,
      part,
      when,
      label,
      limit: MAX_FAULTS,
    })) {
      faults.add({
        ...{ position: null, kind: 'inserted', table, recordId },
        words: `${nameRecord({ table, part, recordId, label: known })} was inserted past the rules of the database: it has no entry in the chain (table ${table}).`,
      });
    }
  }
  const files = await verifyFiles(execute, {
    isOver,
    onProgress: (done) => onProgress(0.8 + 0.2 * done),
    add: (fault) => faults.add(fault),
  });
  return verdict(files);

  function verdict({ complete, files: count }: { complete: boolean; files: number }): Verdict {
    const head =
      walk.position === 0 ? null : { position: walk.position, digest: walk.digest.toString('hex') };
    return {
      whole: complete && faults.count() === 0 && walk.unknownKeys.length === 0,
      ...{ complete, head, entries: walk.position, files: count },
      ...{ faultCount: faults.count(), faults: faults.inOrder(), unknownKeys: walk.unknownKeys },
    };
  }
}

async function readLastPosition(execute: SqlExecutor): Promise<number> {
  const [row] = await execute<{ last: number | null }>(
    sql`select max("position")::float8 as "last" from "chain_link"`,
  );
  return row?.last ?? 0;
}

async function verifySeals(
  execute: SqlExecutor,
  { seal, last, add }: { seal: Seal | null; last: number; add: (fault: Fault) => void },
): Promise<void> {
  for (const broken of await readBrokenSeals(execute, MAX_FAULTS)) {
    const when = `the seal of ${broken.sealedAt.toISOString()}`;
    add(sealFault(broken.position, { isThere: broken.isThere, when, last }));
  }
  if (seal === null) return;
  const link: Link | null = await readLinkAt(execute, seal.position);
  if (link?.digest.toString('hex') !== seal.digest)
    add(sealFault(seal.position, { isThere: link !== null, when: 'the seal that was kept elsewhere', last }));
}

const sealFault = (
  position: number,
  { isThere, when, last }: { isThere: boolean; when: string; last: number },
): Fault => ({
  ...{ position, kind: 'seal', table: 'chain', recordId: null },
  words: isThere
    ? `Entry ${position} of the chain is not the one that ${when} names: the chain was written anew up to there, or the seal is of another record.`
    : `The chain was cut short: ${when} names entry ${position}, and the last one is ${last}.`,
});

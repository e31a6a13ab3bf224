import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { chained, type Chained } from './chained.ts';
import { readAlike, readColumns, readIssuedWith, readUnlinked, type Content } from './content-queries.ts';
import { beginning, digestOfContent, digestOfLink } from './digests.ts';
import type { ChainKeys } from './keys.ts';
import {
  addForm,
  addLinks,
  dropQueued,
  isAnythingQueued,
  lockChain,
  readForms,
  readHead,
  readNow,
  readQueue,
  type Form,
  type Link,
} from './link-queries.ts';

const BATCH = 2_000;

/** What became of an attempt to link: how many entries were made, or why none could be. */
export type Linking = { made: number } | { made: 0; missingKey: string };

/**
 * Makes an entry for everything that waits, in one transaction: all that had been committed when it began, or nothing.
 * Without `wait` it leaves the work to another process that is at it. Where the newest entry was made with a key that is
 * not among `keys`, it makes none: a chain goes on only in the hands of those who hold its key.
 *
 * @example
 * await linkOutstanding(db, { keys, wait: true });
 */
export async function linkOutstanding(
  db: Db,
  { keys, wait }: { keys: ChainKeys; wait: boolean },
): Promise<Linking> {
  if (!(await isAnythingQueued(db.execute))) return { made: 0 };
  return withSqlTransaction(db, async (execute) => {
    if (!(await lockChain(execute, { wait }))) return { made: 0 };
    const head = await readHead(execute);
    if (head !== null && !keys.byId.has(head.keyId)) return { made: 0, missingKey: head.keyId };
    const chain = await openChain(execute, { keys, head });
    for (;;) {
      const waiting = await readQueue(execute, BATCH);
      if (waiting.length === 0) return { made: chain.made() };
      const idsOf = new Map<string, string[]>();
      for (const { tableName, recordId } of waiting)
        idsOf.set(tableName, [...(idsOf.get(tableName) ?? []), recordId]);
      for (const about of chained) {
        const ids = await recordsOf(execute, about, idsOf);
        if (ids.length > 0) await chain.add(about, ids);
      }
      await dropQueued(
        execute,
        waiting.map(({ id }) => id),
      );
    }
  });
}

async function recordsOf(execute: SqlExecutor, { table, issuedWith }: Chained, idsOf: Map<string, string[]>) {
  if (issuedWith === undefined) return idsOf.get(table) ?? [];
  const ids = idsOf.get(issuedWith.table) ?? [];
  return ids.length === 0 ? [] : readIssuedWith(execute, { table, find: issuedWith.find, ids });
}

/** Adds entries behind `head`, inside the transaction that holds the lock. */
export async function openChain(execute: SqlExecutor, options: { keys: ChainKeys; head: Link | null }) {
  const { keys } = options;
  const key = keys.byId.get(keys.newestId);
  if (key === undefined) throw new Error('there is no key for the chain');
  await readAlike(execute);
  const forms = await readForms(execute);
  const columns = await readColumns(execute);
  const linkedAt = await readNow(execute);
  let position = options.head?.position ?? 0;
  let before = options.head?.digest ?? beginning;
  let made = 0;

  async function formOf(about: Chained): Promise<Form> {
    const wanted = columnsOf(about, columns.get(about.table) ?? []);
    const known = forms.find(
      (form) =>
        form.tableName === about.table &&
        form.part === about.part &&
        JSON.stringify(form.columns) === JSON.stringify(wanted),
    );
    if (known !== undefined) return known;
    const form = await addForm(execute, { tableName: about.table, part: about.part, columns: wanted });
    forms.push(form);
    return form;
  }

  function linkTo(form: Form, { recordId, content }: Pick<Content, 'recordId' | 'content'>): Link {
    const { tableName, part } = form;
    position += 1;
    const contentDigest = digestOfContent(key as Buffer, { ...form, content });
    const link = {
      position,
      formId: form.id,
      tableName,
      part,
      recordId,
      linkedAt,
      keyId: keys.newestId,
      contentDigest,
    };
    before = digestOfLink(key as Buffer, before, link);
    made += 1;
    return { ...link, digest: before };
  }

  return {
    made: () => made,
    add: async (about: Chained, ids: readonly string[]) => {
      const form = await formOf(about);
      const reading = { table: about.table, columns: form.columns, when: about.when, label: undefined };
      const rows = await readUnlinked(execute, reading, { part: about.part, ids });
      if (rows.length > 0)
        await addLinks(
          execute,
          rows.map((row) => linkTo(form, row)),
        );
    },
  };
}

/** The columns that an entry covers, of those that the table has now. */
export function columnsOf({ only, except = [], later = [] }: Chained, all: readonly string[]): string[] {
  return (only ?? all.filter((column) => column !== 'id' && !except.includes(column)))
    .map((column) => (column === 'snapshot' && later.length > 0 ? `snapshot - ${later.join(',')}` : column))
    .sort();
}

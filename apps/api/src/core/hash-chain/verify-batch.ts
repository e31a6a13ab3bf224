import type { SqlExecutor } from '../../db/client.ts';
import { chained } from './chained.ts';
import { readContent, type Content } from './content-queries.ts';
import { digestOfContent, digestOfLink } from './digests.ts';
import { nameRecord, placeOf, type openFaults } from './faults.ts';
import type { ChainKeys } from './keys.ts';
import { readLinkOfContent, type Form, type Link } from './link-queries.ts';

/** How far a look at the chain has come. */
export interface Walk {
  readonly run: SqlExecutor;
  readonly keys: ChainKeys;
  readonly faults: ReturnType<typeof openFaults>;
  readonly columns: ReadonlyMap<string, string[]>;
  readonly forms: ReadonlyMap<number, Form>;
  position: number;
  digest: Buffer;
  /** When the entries being read were made, and when those of the time before. */
  runAt: Date | null;
  runBefore: Date | null;
  unknownKeys: { keyId: string; from: number; to: number }[];
}

/** Longer than a transaction can have been under way when the entries before were made. */
const LATE_MS = 10 * 60_000;

/** The table and part of the entry that begins a new key; it stands for no record. */
export const newKey = { tableName: 'chain', part: 'key' } as const;

/** Compares some entries, in their order, with the entry before and with what the records hold. */
export async function verifyBatch(walk: Walk, links: readonly Link[]): Promise<void> {
  const contents = await readContents(walk, links);
  for (const link of links) {
    verifyOrder(walk, link);
    const form = walk.forms.get(link.formId);
    const key = walk.keys.byId.get(link.keyId);
    if (link.tableName === newKey.tableName) continue;
    const record = contents.get(`${link.formId} ${link.recordId}`);
    await verifyRecord(walk, { link, form, key, record });
    verifyTime(walk, link, record);
  }
}

async function readContents(walk: Walk, links: readonly Link[]): Promise<Map<string, Content>> {
  const contents = new Map<string, Content>();
  for (const [formId, of] of byForm(links)) {
    const form = walk.forms.get(formId);
    if (form === undefined || missingColumn(walk, form) !== null || !walk.columns.has(form.tableName))
      continue;
    const about = aboutOf(form);
    const rows = await readContent(
      walk.run,
      { table: form.tableName, columns: form.columns, when: about?.when, label: about?.label },
      of.map(({ recordId }) => recordId),
    );
    for (const row of rows) contents.set(`${formId} ${row.recordId}`, row);
  }
  return contents;
}

function byForm(links: readonly Link[]): Map<number, Link[]> {
  const all = new Map<number, Link[]>();
  for (const link of links) all.set(link.formId, [...(all.get(link.formId) ?? []), link]);
  return all;
}

const aboutOf = ({ tableName, part }: Pick<Form, 'tableName' | 'part'>) =>
  chained.find((about) => about.table === tableName && about.part === part);

const missingColumn = ({ columns }: Walk, { tableName, columns: wanted }: Form): string | null =>
  wanted.find((column) => !columns.get(tableName)?.includes(column.split(' - ')[0] ?? '')) ?? null;

/** Whether the entry follows the one before, and is as it was made. */
function verifyOrder(walk: Walk, link: Link): void {
  const { position, keyId, linkedAt } = link;
  const bad = (words: string) =>
    walk.faults.add({ position, kind: 'chain', table: 'chain', recordId: null, words });
  const missing = position - walk.position - 1;
  if (missing > 0) {
    bad(
      `${missing === 1 ? `Entry ${position - 1} was` : `Entries ${walk.position + 1} to ${position - 1} were`} removed from the chain itself.`,
    );
  }
  const key = walk.keys.byId.get(keyId);
  if (key === undefined) {
    const stretch = walk.unknownKeys.at(-1);
    if (stretch?.keyId === keyId && stretch.to === position - 1) stretch.to = position;
    else walk.unknownKeys.push({ keyId, from: position, to: position });
  } else if (missing === 0 && !digestOfLink(key, walk.digest, link).equals(link.digest)) {
    bad(
      `Entry ${position} of the chain (${link.tableName} ${link.recordId}) was changed in the chain itself, or does not follow the one before it.`,
    );
  }
  walk.position = position;
  walk.digest = link.digest;
  if (walk.runAt?.getTime() !== linkedAt.getTime()) {
    walk.runBefore = walk.runAt;
    walk.runAt = linkedAt;
  }
}

async function verifyRecord(
  walk: Walk,
  {
    link,
    form,
    key,
    record,
  }: { link: Link; form: Form | undefined; key: Buffer | undefined; record: Content | undefined },
): Promise<void> {
  const { position, tableName: table, part, recordId } = link;
  const name = nameRecord({ table, part, recordId, label: record?.label ?? null });
  const place = placeOf({ table, position, linkedAt: link.linkedAt });
  const add = (kind: 'changed' | 'deleted' | 'swapped' | 'chain', words: string) =>
    walk.faults.add({ position, kind, table, recordId, words: `${words} (${place}).` });

  if (form === undefined || form.tableName !== table || form.part !== part)
    return add('chain', `The form of the entry for ${name} was changed`);
  const gone = missingColumn(walk, form);
  if (gone !== null) return add('changed', `${name} cannot be compared: the column ${gone} is gone`);
  if (record === undefined) return add('deleted', `${name} was deleted`);
  if (key === undefined) return;
  const digest = digestOfContent(key, {
    tableName: table,
    part,
    columns: form.columns,
    content: record.content,
  });
  if (digest.equals(link.contentDigest)) {
    if (!record.stands)
      add('changed', `${name} was changed: it is no longer in the state in which it was issued`);
    return;
  }
  const other = await readLinkOfContent(walk.run, {
    tableName: table,
    part,
    contentDigest: digest,
    notOf: recordId,
  });
  if (other === null) return add('changed', `${name} was changed`);
  add(
    'swapped',
    `${name} was swapped: it holds what ${nameRecord({ table, part, recordId: other.recordId, label: null })} held`,
  );
}

/** A record that says it is older than entries that were made without it came later, or its time was changed before. */
function verifyTime(walk: Walk, link: Link, record: Content | undefined): void {
  const column = aboutOf(link)?.writtenAt;
  if (column === undefined || record === undefined || walk.runBefore === null) return;
  const writtenAt = Date.parse((JSON.parse(record.content) as Record<string, string>)[column] ?? '');
  if (!(writtenAt < walk.runBefore.getTime() - LATE_MS)) return;
  const { position, tableName: table, part, recordId, linkedAt } = link;
  walk.faults.add({
    ...{ position, kind: 'inserted', table, recordId },
    words:
      `${nameRecord({ table, part, recordId, label: record.label })} was inserted later than it says: it claims ${new Date(writtenAt).toISOString()}, ` +
      `and was not there when entries were made at ${walk.runBefore.toISOString()} (${placeOf({ table, position, linkedAt })}).`,
  });
}

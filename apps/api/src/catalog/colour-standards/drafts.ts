import type { ColourStandard, NewColourStandard } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, DomainError, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { getCustomer } from '../customers/index.ts';
import * as queries from './queries.ts';
import { readColourStandard, readStandardRevision } from './views.ts';

export const nameOf = ({ code, revision }: { code: string; revision: number }) => `${code} rev ${revision}`;

/** Writes the first revision of a standard, as a draft. */
export async function startStandard(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewColourStandard },
): Promise<ColourStandard> {
  const { code, customerId, ...facts } = input;
  return inTransaction(db, async (tx) => {
    if ((await queries.findCode(tx.execute, code)) !== null)
      throw fieldError(
        'code',
        `${code} is already in use: make a new revision of it, or choose another code`,
      );
    await checkCustomer(tx, customerId);
    await checkFacts(tx, { actor, facts });
    const { id } = await queries.addStandard(tx, { code, customerId });
    return writeNew(tx, { actor, standardId: id, revision: 1, facts });
  });
}

/** Starts the next revision as a copy of the newest; there is one draft at a time. */
export async function reviseStandard(
  db: Db,
  { actor, id, changeNote }: { actor: Actor; id: number; changeNote: string },
): Promise<ColourStandard> {
  return inTransaction(db, async (tx) => {
    await queries.lockStandard(tx.execute, id);
    const { code, revisions } = await readColourStandard(tx.execute, { id });
    const newest = revisions[0]?.revision ?? 0;
    const draft = revisions.find(({ status }) => status === 'draft');
    if (draft !== undefined)
      throw new DomainError(
        'conflict',
        `Revision ${draft.revision} of ${code} is a draft already: edit that one.`,
      );
    const from = await readColourStandard(tx.execute, { id, revision: newest });
    const facts = { ...factsOf(from), changeNote };
    return writeNew(tx, { actor, standardId: id, revision: newest + 1, facts });
  });
}

const factsOf = (from: ColourStandard): queries.RevisionFacts => {
  const { name, target, light, dark, conditions, instrument, tolerance, sample, grade } = from;
  const { agreedBy, agreedOn, expiresOn, photo, notes, changeNote } = from;
  return {
    ...{ name, target, light, dark, conditions, instrument, tolerance, sample, grade },
    ...{ agreedBy, agreedOn, expiresOn, photoId: photo?.id ?? null, notes, changeNote },
  };
};

async function writeNew(
  tx: Tx,
  options: { actor: Actor; standardId: number; revision: number; facts: queries.RevisionFacts },
): Promise<ColourStandard> {
  const { actor, ...written } = options;
  const { id } = await queries.addRevision(tx, { ...written, authorId: actor.personId });
  const draft = await readStandardRevision(tx.execute, id);
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'colour-standard', id: draft.standardId, number: nameOf(draft), action: 'drafted' },
    reason: draft.changeNote || null,
  });
  return draft;
}

/** A revision with its standard locked, so that nobody approves, saves or drafts beside it. */
export async function readLocked(tx: Tx, revisionId: number): Promise<ColourStandard> {
  const { standardId } = await readStandardRevision(tx.execute, revisionId);
  await queries.lockStandard(tx.execute, standardId);
  return readStandardRevision(tx.execute, revisionId);
}

async function readDraft(tx: Tx, { id, version }: { id: number; version: number }): Promise<ColourStandard> {
  const draft = await readLocked(tx, id);
  if (draft.status !== 'draft')
    throw new DomainError('immutable', `${nameOf(draft)} is ${draft.status}: make a new revision of it.`);
  assertVersion({ stored: draft, version, what: nameOf(draft) });
  return draft;
}

/** Writes in a draft. The code stays, and so does the customer once a revision was approved. */
export async function writeStandard(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewColourStandard },
): Promise<ColourStandard> {
  const { actor, id } = options;
  const { code, customerId, ...facts } = options.input;
  return inTransaction(db, async (tx) => {
    const before = await readDraft(tx, options);
    if (code !== before.code) throw fieldError('code', `must stay ${before.code}, as in its other revisions`);
    if (customerId !== (before.customer?.id ?? null)) {
      if (before.revisions.length > 1)
        throw fieldError('customerId', 'must stay as in the earlier revisions: start another standard');
      await refuseForeignParts(tx, before, customerId);
      await checkCustomer(tx, customerId);
      await queries.changeStandard(tx, before.standardId, { customerId });
    }
    await checkFacts(tx, { actor, facts });
    const writerIds = [...new Set([...before.writers.map((writer) => writer.id), actor.personId])];
    await queries.changeRevision(tx, id, { facts, writerIds });
    const after = await readStandardRevision(tx.execute, id);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'colour-standard', id: after.standardId, number: nameOf(after), action: 'changed' },
      changes: changesBetween(forHistory(before), forHistory(after)),
    });
    return after;
  });
}

const forHistory = (standard: ColourStandard) => ({
  ...factsOf(standard),
  photoId: undefined,
  photo: standard.photo?.name ?? null,
  customer: standard.customer?.name ?? null,
});

/** Throws a draft away; the standard goes with its only one, unless a part points to it. */
export async function discardStandard(
  db: Db,
  options: { actor: Actor; id: number; version: number },
): Promise<void> {
  await inTransaction(db, async (tx) => {
    const draft = await readDraft(tx, options);
    const only = draft.revisions.length === 1;
    if (only && (await queries.isPointedTo(tx.execute, draft.standardId)))
      throw new DomainError('in-use', `${draft.code} has this draft only, and a part points to it.`);
    await queries.removeRevision(tx, options.id);
    if (only) await queries.removeStandard(tx, draft.standardId);
    await writeAudit(tx.execute, options.actor, {
      ...{ kind: 'colour-standard', id: draft.standardId, number: nameOf(draft) },
      action: 'discarded the draft',
    });
  });
}

async function checkCustomer(tx: Tx, customerId: number | null): Promise<void> {
  if (customerId === null) return;
  const customer = await getCustomer(tx, customerId).catch(() => {
    throw fieldError('customerId', `is ${customerId}; there is no such customer`);
  });
  if (customer.archivedAt !== null) throw fieldError('customerId', `${customer.name} is archived`);
}

async function refuseForeignParts(tx: Tx, { standardId }: ColourStandard, customerId: number | null) {
  if (customerId === null) return;
  const [part] = await queries.readPartsOfOthers(tx.execute, { standardId, customerId });
  if (part !== undefined)
    throw fieldError('customerId', `part ${part.number} of ${part.customer} points to this standard`);
}

async function checkFacts(
  tx: Tx,
  { actor, facts }: { actor: Actor; facts: queries.RevisionFacts },
): Promise<void> {
  const { agreedOn, photoId } = facts;
  if (agreedOn !== null && agreedOn > (await queries.readToday(tx.execute)))
    throw fieldError('agreedOn', 'is in the future');
  if (photoId === null) return;
  const [photo] = await readFilesFor(tx.execute, { actor, ids: [photoId] });
  if (photo === undefined) throw fieldError('photoId', `is ${photoId}; there is no such file`);
  if (!photo.mediaType.startsWith('image/')) throw fieldError('photoId', `${photo.name} is no picture`);
  await keepFiles(tx.execute, [photoId]);
}

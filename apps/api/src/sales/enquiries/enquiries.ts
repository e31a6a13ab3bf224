import type { Enquiry, NewEnquiry } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { assertVersion, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFiles, readFilesFor, toStoredFile } from '../../core/files/index.ts';
import * as queries from './queries.ts';

/** One enquiry with its pictures, or a refusal that there is none. */
export async function readEnquiry({ execute }: Pick<Queryable, 'execute'>, id: number): Promise<Enquiry> {
  const { pictureIds, ...row } = orNotFound(await queries.readEnquiry(execute, id), `enquiry ${id}`);
  const files = (await readFiles(execute, pictureIds)).map(toStoredFile);
  return { ...row, pictures: pictureIds.flatMap((fileId) => files.find((file) => file.id === fileId) ?? []) };
}

/** The enquiry as somebody saw it, locked until the transaction ends. */
export async function lockedEnquiry(
  tx: Tx,
  { id, version }: { id: number; version: number },
): Promise<Enquiry> {
  await queries.lockEnquiry(tx.execute, id);
  const enquiry = await readEnquiry(tx, id);
  assertVersion({ stored: enquiry, version, what: `Enquiry ${enquiry.number}` });
  return enquiry;
}

export const aboutEnquiry = ({ id, number }: Enquiry) => ({ kind: 'enquiry', id, number }) as const;

/** Writes an enquiry down under the next number. */
export function addEnquiry(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewEnquiry },
): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    await checkNamed(tx, { actor, input, before: null });
    const number = await nextNumber(tx.execute, 'enquiry');
    const { id } = await queries.addEnquiry(tx, { number, createdById: actor.personId, input });
    await writePictures(tx, id, input);
    const enquiry = await readEnquiry(tx, id);
    await writeAudit(tx.execute, actor, { ...aboutEnquiry(enquiry), action: 'written down' });
    return enquiry;
  });
}

/** Replaces what is known; what became of it is not touched. */
export function changeEnquiry(
  db: Db,
  { actor, id, version, input }: { actor: Actor; id: number; version: number; input: NewEnquiry },
): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    const before = await lockedEnquiry(tx, { id, version });
    if (before.quotation !== null && input.customerId !== before.customer?.id)
      throw fieldError(
        'customerId',
        `must stay: ${before.quotation.number} is for ${before.customer?.name ?? ''}`,
      );
    await checkNamed(tx, { actor, input, before });
    await queries.changeEnquiry(tx, id, input);
    await writePictures(tx, id, input);
    const after = await readEnquiry(tx, id);
    await writeAudit(tx.execute, actor, {
      ...aboutEnquiry(after),
      action: 'changed',
      changes: changesBetween(forHistory(before), forHistory(after)),
    });
    return after;
  });
}

const forHistory = ({
  customer,
  standard,
  material,
  owner,
  pictures,
  series: _series,
  quotation: _quotation,
  decisions: _decisions,
  ...facts
}: Enquiry) => ({
  ...facts,
  customer: customer?.number ?? null,
  colourStandard: standard?.code ?? null,
  material: material === null ? null : [material.name, material.condition].filter(Boolean).join(', '),
  owner: owner.displayName,
  pictures: pictures.map(({ name }) => name),
});

async function checkNamed(
  tx: Tx,
  { actor, input, before }: { actor: Actor; input: NewEnquiry; before: Enquiry | null },
): Promise<void> {
  const { customer, standard, material, owner } = await queries.readNamed(tx.execute, input);
  if (input.customerId !== null && input.customerId !== before?.customer?.id && !customer)
    throw fieldError('customerId', 'is not a customer in use');
  if (input.colourStandardId !== null) {
    if (standard === null)
      throw fieldError('colourStandardId', `there is no colour standard ${input.colourStandardId}`);
    if (standard.customerId !== null && standard.customerId !== input.customerId)
      throw fieldError('colourStandardId', 'is a standard of another customer');
  }
  if (input.materialId !== null) {
    if (material === null) throw fieldError('materialId', `there is no material ${input.materialId}`);
    if (input.baseMetal !== null && input.baseMetal !== material.baseMetal)
      throw fieldError('baseMetal', `must be ${material.baseMetal}, as the material is, or empty`);
  }
  if (input.ownerId !== before?.owner.id && !owner)
    throw fieldError('ownerId', 'is nobody who answers enquiries');
  const known = new Set(before?.pictures.map(({ id }) => id));
  const asked = input.pictureIds.filter((id) => !known.has(id));
  const found = await readFilesFor(tx.execute, { actor, ids: asked });
  for (const id of asked) {
    const path = `pictureIds.${input.pictureIds.indexOf(id)}`;
    const file = found.find((one) => one.id === id);
    if (file === undefined) throw fieldError(path, `there is no file ${id}`);
    if (!/^(?:image\/(?:png|jpeg|webp)|application\/pdf)$/.test(file.mediaType))
      throw fieldError(path, `${file.name} must be a PNG, JPEG or WebP picture, or a PDF`);
  }
}

async function writePictures(tx: Tx, id: number, { pictureIds }: NewEnquiry): Promise<void> {
  await queries.replacePictures(tx, id, pictureIds);
  await keepFiles(tx.execute, pictureIds);
}

import type { Chemical, NewChemical } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { changedWords, pricedFor, priceAfter, unpriced } from './prices.ts';
import * as queries from './queries.ts';

const codeTaken = (code: string) => fieldError('code', `${code} is already in use`);

/** The data sheet must be a file that is there; it then stays. */
async function keepSheet(tx: Tx, actor: Actor, id: number | null): Promise<void> {
  if (id === null) return;
  if ((await readFilesFor(tx.execute, { actor, ids: [id] })).length === 0)
    throw fieldError('sdsFileId', `there is no file ${id}`);
  await keepFiles(tx.execute, [id]);
}

/** Adds a chemical. */
export async function addChemical(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewChemical },
): Promise<Chemical> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readChemicalByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    await keepSheet(tx, actor, input.sdsFileId);
    const { id } = await queries.addChemical(tx, { ...input, pricePerKg: input.pricePerKg ?? null });
    await writeAudit(tx.execute, actor, { kind: 'chemical', id, number: input.code, action: 'added' });
    return queries.toChemical(orNotFound(await queries.readChemical(tx.execute, id), `chemical ${id}`));
  });
}

/** Changes a chemical; it is not archived while something of it stands on the shelf. */
export async function changeChemical(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewChemical & { archived: boolean } },
): Promise<Chemical> {
  const { actor, id, version } = options;
  const { archived, ...input } = options.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.execute, { table: 'chemical', id });
    const row = orNotFound(await queries.readChemical(tx.execute, id), `chemical ${id}`);
    const before = queries.toChemical(row);
    assertVersion({ stored: pricedFor(actor, before), version, what: `Chemical ${before.code}` });
    if (input.code !== before.code && (await queries.readChemicalByCode(tx, input.code)) !== null)
      throw codeTaken(input.code);
    if (archived && before.balanceKg > 0)
      throw fieldError(
        'archived',
        `${before.balanceKg.toFixed(2)} kg of it are in stock: use or book them out first`,
      );
    await keepSheet(tx, actor, input.sdsFileId);
    const archivedAt = archived ? (row.archivedAt ?? new Date()) : null;
    const pricePerKg = priceAfter(actor, { before: before.pricePerKg, given: input.pricePerKg });
    await queries.changeChemical(tx, { id, input: { ...input, pricePerKg }, archivedAt });
    const after = queries.toChemical(
      orNotFound(await queries.readChemical(tx.execute, id), `chemical ${id}`),
    );
    await writeAudit(tx.execute, actor, {
      kind: 'chemical',
      id,
      number: after.code,
      action: changedWords(before, after),
      changes: changesBetween(unpriced(before), unpriced(after)),
    });
    return after;
  });
}

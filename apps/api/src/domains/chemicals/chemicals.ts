import type { Chemical, NewChemical } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { checkVersion, found, invalid } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import { keepFiles, readFiles } from '../files/index.ts';
import { changedWords, pricedFor, priceAfter, unpriced } from './prices.ts';
import * as queries from './queries.ts';

const codeTaken = (code: string) => invalid('code', `${code} is taken already`);

/** The data sheet must be a file that is there; it then stays. */
async function keepSheet(tx: Tx, id: number | null): Promise<void> {
  if (id === null) return;
  if ((await readFiles(tx.run, [id])).length === 0) throw invalid('sdsFileId', `there is no file ${id}`);
  await keepFiles(tx.run, [id]);
}

/** Adds a chemical. */
export async function addChemical(db: Db, of: { actor: Actor; input: NewChemical }): Promise<Chemical> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    if ((await queries.readChemicalByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    await keepSheet(tx, input.sdsFileId);
    const { id } = await queries.addChemical(tx, { ...input, pricePerKg: input.pricePerKg ?? null });
    await record(tx.run, actor, { kind: 'chemical', id, number: input.code, action: 'added' });
    return queries.toChemical(found(await queries.readChemical(tx.run, id), `chemical ${id}`));
  });
}

/** Changes a chemical; it is not archived while something of it stands on the shelf. */
export async function changeChemical(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: NewChemical & { archived: boolean } },
): Promise<Chemical> {
  const { actor, id, version } = of;
  const { archived, ...input } = of.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.run, { table: 'chemical', id });
    const row = found(await queries.readChemical(tx.run, id), `chemical ${id}`);
    const before = queries.toChemical(row);
    checkVersion({ stored: pricedFor(actor, before), version, what: `Chemical ${before.code}` });
    if (input.code !== before.code && (await queries.readChemicalByCode(tx, input.code)) !== null)
      throw codeTaken(input.code);
    if (archived && before.balanceKg > 0)
      throw invalid(
        'archived',
        `${before.balanceKg.toFixed(2)} kg of it are in stock: use or book them out first`,
      );
    await keepSheet(tx, input.sdsFileId);
    const archivedAt = archived ? (row.archivedAt ?? new Date()) : null;
    const pricePerKg = priceAfter(actor, { before: before.pricePerKg, given: input.pricePerKg });
    await queries.changeChemical(tx, { id, input: { ...input, pricePerKg }, archivedAt });
    const after = queries.toChemical(found(await queries.readChemical(tx.run, id), `chemical ${id}`));
    await record(tx.run, actor, {
      kind: 'chemical',
      id,
      number: after.code,
      action: changedWords(before, after),
      changes: changesBetween(unpriced(before), unpriced(after)),
    });
    return after;
  });
}

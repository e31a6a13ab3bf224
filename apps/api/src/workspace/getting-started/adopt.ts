import type { adoptStarterSet, PageRef, StarterSetKey } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { addChemical } from '../../lab/chemicals/index.ts';
import { addMaterial, startingLibrary } from '../../catalog/materials/index.ts';
import { putInForce } from '../../catalog/rates/index.ts';
import { addRecipe } from '../../catalog/recipes/index.ts';
import { addRack, addSupply } from '../../catalog/equipment/index.ts';
import { addTank } from '../../lab/tanks/index.ts';
import { holdAdopting, readTanksOf } from './queries.ts';
import { materialKey, readStarterSet } from './sets.ts';
import { starterChemicals } from './starter/chemicals.ts';
import { starterRacks, starterSupplies } from './starter/equipment.ts';
import { exampleRates, exampleRatesNote } from './starter/rates.ts';
import { starterRecipes } from './starter/recipes.ts';
import { starterTanks } from './starter/tanks.ts';

type Adopted = z.output<typeof adoptStarterSet.reply>;
interface Choice {
  actor: Actor;
  key: string;
}

const factsOf = <Facts>(rows: readonly { key: string; facts: Facts }[], key: string): Facts => {
  const row = rows.find((one) => one.key === key);
  if (row === undefined) throw new Error(`no starter ${key}`);
  return row.facts;
};

/** How one row of each set becomes a record: by the command that a person uses, so with its checks and its history. */
const adopters: Record<StarterSetKey, (tx: Tx, choice: Choice) => Promise<PageRef>> = {
  materials: async (tx, { actor, key }) => {
    const facts = factsOf(
      startingLibrary.map((one) => ({ key: materialKey(one), facts: one })),
      key,
    );
    return { kind: 'material', id: (await addMaterial(tx, { actor, facts })).id };
  },
  tanks: async (tx, { actor, key }) => ({
    kind: 'tank',
    id: (await addTank(tx, { actor, input: factsOf(starterTanks, key) })).id,
  }),
  supplies: async (tx, { actor, key }) => {
    const { contents, ...facts } = factsOf(starterSupplies, key);
    const tankIds = (await readTanksOf(tx.execute, contents)).map(({ id }) => id);
    return { kind: 'supply', id: (await addSupply(tx, { actor, input: { ...facts, tankIds } })).id };
  },
  racks: async (tx, { actor, key }) => ({
    kind: 'rack',
    id: (await addRack(tx, { actor, input: factsOf(starterRacks, key) })).id,
  }),
  rates: async (tx, { actor }) => {
    const input = { fromRevision: 0, note: exampleRatesNote, rates: exampleRates };
    return { kind: 'rateCard', id: (await putInForce(tx, { actor, input })).id };
  },
  recipes: async (tx, { actor, key }) => {
    const { recipe } = await addRecipe(tx, { actor, input: factsOf(starterRecipes, key) });
    return { kind: 'recipe', id: recipe.id };
  },
  chemicals: async (tx, { actor, key }) => ({
    kind: 'chemical',
    id: (await addChemical(tx, { actor, input: factsOf(starterChemicals, key) })).id,
  }),
};

/**
 * Creates the chosen rows of a starter set, all or none. What has its code or name already is left as it is, so that a
 * second time changes nothing.
 */
export const adopt = (
  db: Db,
  { actor, set, keys }: { actor: Actor; set: StarterSetKey; keys: readonly string[] },
): Promise<Adopted> =>
  inTransaction(db, async (tx) => {
    if (!(await holdAdopting(tx.execute)))
      throw new DomainError('conflict', 'Starter sets are being taken over at this moment: look again.');
    const { rows } = await readStarterSet(tx.execute, set);
    const chosen = keys.map((key, index) => {
      const row = rows.find((one) => one.key === key);
      if (row === undefined) throw fieldError(`keys.${index}`, `${key} is not in this set`);
      return row;
    });
    const adopted: Adopted = { added: [], kept: [] };
    for (const { key, name, there } of new Set(chosen)) {
      if (there !== null) adopted.kept.push({ key, ...there });
      else adopted.added.push({ key, name, page: await adopters[set](tx, { actor, key }) });
    }
    return adopted;
  });
